package picture

import (
	"image"
	"image/draw"

	xdraw "golang.org/x/image/draw"
)

// shrink makes img at most side pixels long: first by a whole factor, each
// pixel the mean of those that it takes the place of, so that nothing
// flickers or is lost; what is left, less than half, by interpolation. It is
// never made larger.
func shrink(img image.Image, side int) *image.RGBA {
	b := img.Bounds()
	w, h := fitting(b.Dx(), b.Dy(), side)
	img = coarser(img, max(b.Dx(), b.Dy())/max(w, h))
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	if !opaque(img) {
		draw.Draw(out, out.Bounds(), image.White, image.Point{}, draw.Src) // paper behind what is transparent
	}
	xdraw.ApproxBiLinear.Scale(out, out.Bounds(), img, img.Bounds(), draw.Over, nil)
	return out
}

// fitting is the size of w x h made to fit into a square of side.
func fitting(w, h, side int) (int, int) {
	long := max(w, h)
	if long <= side {
		return w, h
	}
	scale := func(n int) int { return max(1, (n*side+long/2)/long) }
	return scale(w), scale(h)
}

func opaque(img image.Image) bool {
	o, ok := img.(interface{ Opaque() bool })
	return ok && o.Opaque()
}

// coarser makes a picture smaller by a whole factor.
func coarser(img image.Image, k int) image.Image {
	if k < 2 {
		return img
	}
	b := img.Bounds()
	w, h := max(1, b.Dx()/k), max(1, b.Dy()/k)
	switch p := img.(type) {
	case *image.YCbCr:
		out := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio444)
		mean(out.Y, out.YStride, w, h, p.Y[p.YOffset(b.Min.X, b.Min.Y):], p.YStride, b.Dx(), b.Dy())
		across, down := subsampled(p.SubsampleRatio)
		cw, ch := (b.Dx()+across-1)/across, (b.Dy()+down-1)/down
		at := p.COffset(b.Min.X, b.Min.Y)
		mean(out.Cb, out.CStride, w, h, p.Cb[at:], p.CStride, cw, ch)
		mean(out.Cr, out.CStride, w, h, p.Cr[at:], p.CStride, cw, ch)
		return out
	case *image.Gray:
		out := image.NewGray(image.Rect(0, 0, w, h))
		mean(out.Pix, out.Stride, w, h, p.Pix[p.PixOffset(b.Min.X, b.Min.Y):], p.Stride, b.Dx(), b.Dy())
		return out
	case *image.RGBA:
		return coarserRGBA(p, w, h)
	}
	return coarserAny(img, w, h)
}

// subsampled says how many pixels share one sample of colour.
func subsampled(s image.YCbCrSubsampleRatio) (across, down int) {
	switch s {
	case image.YCbCrSubsampleRatio422:
		return 2, 1
	case image.YCbCrSubsampleRatio420:
		return 2, 2
	case image.YCbCrSubsampleRatio440:
		return 1, 2
	case image.YCbCrSubsampleRatio411:
		return 4, 1
	case image.YCbCrSubsampleRatio410:
		return 4, 2
	}
	return 1, 1
}

// mean makes the plane to, of w x h samples, of the plane from, of fw x fh:
// each sample the mean of those whose place it takes.
func mean(to []byte, stride, w, h int, from []byte, fstride, fw, fh int) {
	sums := make([]uint32, w)
	edge := make([]int, w+1)
	for x := range edge {
		edge[x] = x * fw / w
	}
	for y := range h {
		clear(sums)
		y0 := y * fh / h
		y1 := max(y0+1, (y+1)*fh/h)
		for yy := y0; yy < y1; yy++ {
			row := from[yy*fstride : yy*fstride+fw]
			for x := range w {
				var s uint32
				for _, v := range row[edge[x]:max(edge[x]+1, edge[x+1])] {
					s += uint32(v)
				}
				sums[x] += s
			}
		}
		line := to[y*stride : y*stride+w]
		for x := range w {
			n := uint32((y1 - y0) * max(1, edge[x+1]-edge[x]))
			line[x] = byte((sums[x] + n/2) / n)
		}
	}
}

// coarserRGBA is mean for the four samples of a pixel.
func coarserRGBA(p *image.RGBA, w, h int) *image.RGBA {
	b := p.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		y0, y1 := y*b.Dy()/h, (y+1)*b.Dy()/h
		for x := range w {
			x0, x1 := x*b.Dx()/w, (x+1)*b.Dx()/w
			var s [4]uint32
			for yy := y0; yy < y1; yy++ {
				row := p.Pix[p.PixOffset(b.Min.X+x0, b.Min.Y+yy) : p.PixOffset(b.Min.X+x1-1, b.Min.Y+yy)+4]
				for i := 0; i < len(row); i += 4 {
					for c := range s {
						s[c] += uint32(row[i+c])
					}
				}
			}
			n := uint32((y1 - y0) * (x1 - x0))
			for c := range s {
				out.Pix[y*out.Stride+4*x+c] = byte((s[c] + n/2) / n)
			}
		}
	}
	return out
}

// coarserAny does the same for pictures of any kind, slowly and in strips, so
// that no second picture of full size is held.
func coarserAny(img image.Image, w, h int) *image.RGBA {
	b := img.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		y0, y1 := y*b.Dy()/h, (y+1)*b.Dy()/h
		strip := image.NewRGBA(image.Rect(0, 0, b.Dx(), y1-y0))
		draw.Draw(strip, strip.Bounds(), img, image.Pt(b.Min.X, b.Min.Y+y0), draw.Src)
		copy(out.Pix[y*out.Stride:(y+1)*out.Stride], coarserRGBA(strip, w, 1).Pix)
	}
	return out
}

// turn turns a picture as Exif's orientation says:
//
//	1 as it is           2 mirrored           3 upside down       4 3 mirrored
//	5 6 mirrored         6 a quarter right    7 8 mirrored        8 a quarter left
func turn(p *image.RGBA, orientation int) *image.RGBA {
	if orientation < 2 || orientation > 8 {
		return p
	}
	w, h := p.Rect.Dx(), p.Rect.Dy()
	ow, oh := w, h
	if orientation >= 5 {
		ow, oh = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, ow, oh))
	for y := range oh {
		for x := range ow {
			var fx, fy int
			switch orientation {
			case 2:
				fx, fy = w-1-x, y
			case 3:
				fx, fy = w-1-x, h-1-y
			case 4:
				fx, fy = x, h-1-y
			case 5:
				fx, fy = y, x
			case 6:
				fx, fy = y, h-1-x
			case 7:
				fx, fy = w-1-y, h-1-x
			case 8:
				fx, fy = w-1-y, x
			}
			copy(out.Pix[y*out.Stride+4*x:][:4], p.Pix[fy*p.Stride+4*fx:][:4])
		}
	}
	return out
}
