package random_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"dogshore/internal/random"
	"dogshore/internal/test"
)

// The first numbers after the seed 1234567.
func TestPublishedOutput(t *testing.T) {
	const src = "SplitMix64 with seed 1234567, as public code collections list it; from memory"
	for i, want := range []uint64{6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431, 16408922859458223821} {
		got := random.Key(1234567).At(uint64(i + 1))
		if got != want {
			t.Errorf("number %d = %d, want %d (%s)", i+1, got, want, src)
		}
		test.Check(t, fmt.Sprintf("upper half of number %d of the counter hash", i+1), src, float64(want>>32), float64(got>>32), 0)
	}
}

func TestNormalQuantiles(t *testing.T) {
	const src = "standard normal quantiles, schedule-money sheet section 3.1 (P80 0.84162, P90 1.28155, P95 1.64485); the rest from memory of printed tables"
	for _, c := range []struct{ p, z, allowed float64 }{
		{0.8, 0.84162, 5e-6}, {0.9, 1.28155, 5e-6}, {0.95, 1.64485, 5e-6}, {0.975, 1.959964, 5e-7}, {0.999, 3.090232, 5e-7},
		{0.5, 0, 0}, {0.1, -1.281551565545, 1e-12}, {1e-9, -5.997807, 5e-7},
	} {
		test.Check(t, fmt.Sprintf("normal quantile of %g", c.p), src, c.z, random.Quantile(c.p), c.allowed)
	}
}

// The quantile undoes the survival function, far into the tail too.
func TestTailIsUndone(t *testing.T) {
	for z := -5.0; z < 1000; z += 0.37 {
		l := random.LogSurvival(z)
		if l >= -1e-12 {
			continue
		}
		if back := random.QuantileOfLogSurvival(l); math.Abs(back-z) > 1e-8*(1+math.Abs(z)) {
			t.Fatalf("z = %g: log survival %g gives back %g", z, l, back)
		}
	}
	// z = 8.28: 12 medians at sigma 0.3, where 1 - G is 0 in double precision.
	test.Check(t, "log survival at z = 10", "Abramowitz and Stegun 1964, table 26.2: -log10 Q(10) = 23.11805, from memory",
		-23.11805*math.Ln10, random.LogSurvival(10), 1e-4)
	test.Check(t, "log survival at z = 50", "the same table: -log10 Q(50) = 544.96634, from memory",
		-544.96634*math.Ln10, random.LogSurvival(50), 1e-4)
}

// Even in every bit, in sixteen classes of u, in pairs of following trials and
// of neighbouring subjects.
func TestUniformity(t *testing.T) {
	const n = 1 << 16
	key := random.Seed(7).For("deck-core").For("length")
	other := random.Seed(7).For("deck-cord").For("length")
	var bit [64]int
	var one [16]int
	var after, beside [256]int
	for i := range uint64(n) {
		h := key.At(i)
		for b := range bit {
			bit[b] += int(h >> b & 1)
		}
		one[h>>60]++
		after[h>>60<<4|key.At(i+1)>>60]++
		beside[h>>60<<4|other.At(i)>>60]++
	}
	for b, c := range bit {
		if math.Abs(float64(c)-n/2) > 5*math.Sqrt(n)/2 {
			t.Errorf("bit %d is set in %d of %d", b, c, n)
		}
	}
	for what, count := range map[string][]int{"one": one[:], "following": after[:], "neighbouring": beside[:]} {
		e, chi := float64(n)/float64(len(count)), 0.0
		for _, c := range count {
			chi += (float64(c) - e) * (float64(c) - e) / e
		}
		df := float64(len(count) - 1)
		if z := (chi - df) / math.Sqrt(2*df); math.Abs(z) > 5 {
			t.Errorf("%s: chi-square %.1f with %g degrees of freedom", what, chi, df)
		}
	}
}

func TestMoments(t *testing.T) {
	const n, src = 200000, "moments of the standard normal law, exact"
	var m [5]float64
	key := random.Seed(1).For("moments")
	for i := range uint64(n) {
		z := key.Normal(i)
		for k, x := 1, z; k <= 4; k, x = k+1, x*z {
			m[k] += x / n
		}
	}
	for k, want := range map[int]float64{1: 0, 2: 1, 3: 0, 4: 3} {
		sd := math.Sqrt([]float64{0, 1, 2, 15, 96}[k] / n)
		test.Check(t, fmt.Sprintf("moment %d of 200,000 normal draws", k), src, want, m[k], 4*sd)
	}
}

func TestKeysDiffer(t *testing.T) {
	seen := make(map[random.Key]string)
	for seed := range uint64(3) {
		for i := range 20000 {
			name := fmt.Sprintf("step-%d", i)
			k := random.Seed(seed).For(name)
			if was, ok := seen[k]; ok {
				t.Fatalf("%s and %d/%s have one key", was, seed, name)
			}
			seen[k] = fmt.Sprintf("%d/%s", seed, name)
		}
	}
	k := random.Seed(1)
	if k.For("a").For("bc") == k.For("ab").For("c") || k.For("") == k {
		t.Error("keys of keys run together")
	}
}

// Many draws at once are the single ones: the bits exactly, the normal ones as
// near as straight lines between 512 cells come.
func TestManyAtOnce(t *testing.T) {
	const n = 1 << 20
	key := random.Seed(3).For("many")
	z, both, low, lower := make([]int64, n), make([]int64, n), make([]uint32, n), make([]uint32, n)
	key.Normals(77, z)
	key.Lower(77, low)
	key.NormalsAndLower(77, both, lower)
	if !slices.Equal(z, both) || !slices.Equal(low, lower) {
		t.Error("normal draws and lower halves at once are not those of either")
	}
	worst, tails := 0.0, 0
	for i := range uint64(n) {
		bits := key.At(77 + i)
		if low[i] != uint32(bits) {
			t.Fatalf("lower half of trial %d: %x, want %x", 77+i, low[i], uint32(bits))
		}
		want := random.Quantile(random.Unit32(uint32(bits >> 32)))
		off := math.Abs(float64(z[i])/random.One - want)
		worst = max(worst, off)
		if math.Abs(want) > 3.842 {
			tails++
			if off > 1.0/random.One {
				t.Fatalf("quantile of %x: %.9f, want %.9f", bits>>32, float64(z[i])/random.One, want)
			}
		}
	}
	t.Logf("a normal draw is off by %.4f at the most; %d lie in the tails", worst, tails)
	if worst > 0.0027 || tails < 50 {
		t.Errorf("off by %.4f, %d in the tails", worst, tails)
	}
}
