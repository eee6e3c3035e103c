package dxf_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"dogshore/dxf"
)

// blocks builds a drawing of blocks and what is drawn.
func blocks(list, entities string) []byte {
	lines := func(s string) string { return strings.ReplaceAll(strings.TrimSpace(s), " ", "\n") + "\n" }
	return []byte("0\nSECTION\n2\nBLOCKS\n" + lines(list) + "0\nENDSEC\n0\nSECTION\n2\nENTITIES\n" + lines(entities) + "0\nENDSEC\n0\nEOF\n")
}

// Blocks of blocks of blocks end at a bound, as do endless rows; blocks that
// contain themselves are passed over and counted.
func TestBombs(t *testing.T) {
	nest := ""
	for i := range 10 {
		nest += fmt.Sprintf("0 BLOCK 2 B%d ", i)
		for range 10 {
			nest += fmt.Sprintf("0 INSERT 2 B%d 10 1 20 1 ", i+1)
		}
		nest += "0 ENDBLK "
	}
	nest += "0 BLOCK 2 B10 0 LINE 10 0 20 0 11 1 21 1 0 ENDBLK"
	for name, raw := range map[string][]byte{
		"nested":       blocks(nest, "0 INSERT 2 B0"),
		"rows":         blocks("0 BLOCK 2 A 0 LINE 10 0 20 0 11 1 21 1 0 ENDBLK", "0 INSERT 2 A 70 32000 71 32000 44 1 45 1"),
		"many chords":  text(strings.Repeat("0 CIRCLE 10 0 20 0 40 900000000 ", 400)),
		"many corners": text(strings.Repeat("0 LWPOLYLINE 70 1 10 0 20 0 42 1 10 900000000 20 0 42 1 ", 400)),
		"long":         []byte(strings.Repeat("0\n\n", 4_100_000)),
		"large":        make([]byte, dxf.MaxBytes+1),
	} {
		if _, err := dxf.Read(raw, dxf.Options{Metre: 1}); !errors.Is(err, dxf.ErrSize) {
			t.Errorf("%s: %v", name, err)
		}
	}
	far, err := dxf.Read(blocks("0 BLOCK 2 A 0 INSERT 2 B 41 1e9 42 1e9 0 ENDBLK 0 BLOCK 2 B 0 LINE 10 0 20 0 11 1 21 1 0 ENDBLK", "0 INSERT 2 A 41 1e9"), dxf.Options{Metre: 1})
	if err != nil || len(far.Shapes) != 0 || len(far.Unread) != 1 {
		t.Errorf("%v, %+v", err, far)
	}
	d, err := dxf.Read(blocks("0 BLOCK 2 A 0 INSERT 2 b 0 LINE 10 0 20 0 11 1 21 1 0 ENDBLK 0 BLOCK 2 B 0 INSERT 2 A 0 ENDBLK", "0 INSERT 2 A 0 INSERT 2 NONE"), dxf.Options{Metre: 1})
	if err != nil || len(d.Shapes) != 1 || len(d.Unread) != 2 {
		t.Errorf("%v, %+v", err, d)
	}
}

// Values that are no numbers, or beyond anything drawn, are counted and not
// read.
func TestNonsense(t *testing.T) {
	for _, src := range []string{
		"0 LINE 10 NaN 20 0 11 1 21 1", "0 LINE 10 1e300 20 0 11 1 21 1", "0 LINE 10 0 20 0", "0 CIRCLE 10 0 20 0 40 -1", "0 ARC 10 0 20 0 40 x",
		"0 LWPOLYLINE 10 0 20 0", "0 POLYLINE 70 64", "0 ELLIPSE 10 0 20 0 11 0 21 0 40 1", "0 SPLINE 71 3 10 0 20 0", "0 SPLINE 71 3 11 0 21 0",
		"0 SPLINE 71 1 40 0 40 0 40 -1 40 1 10 0 20 0 10 1 20 1", "0 LINE 10 1 20 1 11 1 21 1", "0 LINE 67 1 10 0 20 0 11 1 21 1", "0 INSERT 2 A 41 x",
	} {
		d, err := dxf.Read(text(src), dxf.Options{})
		if err != nil || len(d.Shapes) != 0 || len(d.Unread) != 1 || d.Unread[0].Why == "" {
			t.Errorf("%s: %v, %+v", src, err, d)
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, name := range []string{"deck-2000", "deck-binary", "oldest"} {
		f.Add(fixture(f, name))
	}
	f.Add(text("0 SPLINE 71 2 40 0 40 0 40 0 40 1 40 1 40 1 41 1 41 5 41 1 10 0 20 0 10 1 20 1 10 2 20 0"))
	f.Add(text("0 LWPOLYLINE 8 A 70 1 43 0 10 0 20 0 42 -0.5 10 2 20 0 0 POINT 10 1 20 1 0 ELLIPSE 10 0 20 0 11 1 21 0 40 0.5 41 0 42 3"))
	f.Add(blocks("0 BLOCK 2 A 0 ARC 40 2 50 10 51 80 0 ENDBLK", "0 INSERT 2 A 41 2 42 -1 50 30 70 2 71 2 44 5 45 5 210 0 220 0 230 -1"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		for _, opt := range []dxf.Options{{}, {Metre: 0.001}, {Metre: 1, Chord: 0.1, Join: 0.5}} {
			d, err := dxf.Read(raw, opt)
			if err != nil {
				if !errors.Is(err, dxf.ErrKind) && !errors.Is(err, dxf.ErrSize) {
					t.Fatalf("an error of no sort: %v", err)
				}
				continue
			}
			for _, s := range d.Shapes {
				if len(s.Points) == 0 || s.Layer == "" || s.Closed && len(s.Points) < 3 {
					t.Fatalf("%+v", s)
				}
				for _, p := range s.Points {
					if math.IsNaN(p.X+p.Y+p.Z) || math.IsInf(p.X+p.Y+p.Z, 0) {
						t.Fatalf("a point at %v", p)
					}
				}
			}
		}
	})
}
