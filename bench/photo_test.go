package bench

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"dogshore/picture"
)

// megapixels writes a JPEG of 4032 x 3024 pixels with the grain of a camera
// and returns its path.
func megapixels(tb testing.TB) string {
	tb.Helper()
	img := image.NewYCbCr(image.Rect(0, 0, 4032, 3024), image.YCbCrSubsampleRatio420)
	rnd := rand.New(rand.NewPCG(1, 12))
	for i := range img.Y {
		x, y := i%img.YStride, i/img.YStride
		img.Y[i] = byte((x/16+y/24)%200 + rnd.IntN(24))
	}
	for i := range img.Cb {
		img.Cb[i], img.Cr[i] = byte(i%img.CStride/16), byte(i/img.CStride/12)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 90}); err != nil {
		tb.Fatal(err)
	}
	path := filepath.Join(tb.TempDir(), "big.jpg")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		tb.Fatal(err)
	}
	return path
}

// peerConvert has ImageMagick make the same two sizes, the right way up and
// without what the camera wrote, and returns the processor time that it took.
func peerConvert(tb testing.TB, path string, hint bool) time.Duration {
	tb.Helper()
	dir := tb.TempDir()
	args := []string{path}
	if hint { // its JPEG reader may then decode at a fraction of the size
		args = []string{"-define", "jpeg:size=1600x1600", path}
	}
	args = append(args, "-auto-orient", "-strip", "-quality", "82", "-resize", "1600x1600>", "-write", filepath.Join(dir, "screen.jpg"),
		"-resize", "320x320>", filepath.Join(dir, "thumb.jpg"))
	cmd := exec.Command("/usr/bin/convert", args...)
	if out, err := cmd.CombinedOutput(); err != nil {
		tb.Fatalf("%v: %s", err, out)
	}
	for name, want := range map[string]int{"screen.jpg": 1600, "thumb.jpg": 320} {
		b, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			tb.Fatal(err)
		}
		if c, err := jpeg.DecodeConfig(bytes.NewReader(b)); err != nil || c.Width != want {
			tb.Fatalf("%s: %d wide, %v", name, c.Width, err)
		}
	}
	return cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
}

// BenchmarkSmallPictures makes the thumbnail and the screen size of one
// picture of 12 megapixels, here and by ImageMagick.
func BenchmarkSmallPictures(b *testing.B) {
	path := megapixels(b)
	b.Run("make", func(b *testing.B) {
		before := cpuTime()
		for b.Loop() {
			f, err := os.Open(path)
			if err != nil {
				b.Fatal(err)
			}
			info, err := f.Stat()
			if err != nil {
				b.Fatal(err)
			}
			if _, err := picture.Make(b.Context(), f, info.Size()); err != nil {
				b.Fatal(err)
			}
			_ = f.Close()
		}
		b.ReportMetric(float64((cpuTime()-before).Milliseconds())/float64(b.N), "cpu-ms/op")
	})
	for _, hint := range []bool{false, true} {
		b.Run(fmt.Sprintf("peer/hint=%v", hint), func(b *testing.B) {
			if _, err := os.Stat("/usr/bin/convert"); err != nil {
				b.Skip("there is no ImageMagick here (Debian: imagemagick)")
			}
			var used time.Duration
			for b.Loop() {
				used += peerConvert(b, path, hint)
			}
			b.ReportMetric(float64(used.Milliseconds())/float64(b.N), "cpu-ms/op")
		})
	}
}

// BenchmarkPhotoHeads reads what 12 megapixels say of themselves: what is done
// of every picture before the list is shown.
func BenchmarkPhotoHeads(b *testing.B) {
	path := megapixels(b)
	for b.Loop() {
		f, err := os.Open(path)
		if err != nil {
			b.Fatal(err)
		}
		info, err := f.Stat()
		if err != nil {
			b.Fatal(err)
		}
		if _, err := picture.Read(f, info.Size()); err != nil {
			b.Fatal(err)
		}
		_ = f.Close()
	}
}
