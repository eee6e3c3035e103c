package people_test

import (
	"strings"
	"testing"

	"dogshore/internal/test"
	"dogshore/people"
)

// The strings of the argon2 reference implementation (P-H-C/phc-winner-argon2,
// src/test.c, version 19, argon2id), read and checked by our own reading.
func TestHashesOfTheReferenceImplementation(t *testing.T) {
	const src = "argon2 reference implementation, src/test.c, argon2id version 19"
	held := 0
	for _, phc := range []string{
		"$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc",
		"$argon2id$v=19$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4",
		"$argon2id$v=19$m=256,t=2,p=2$c29tZXNhbHQ$bQk8UB/VmZZF4Oo79iDXuL5/0ttZwg2f/5U52iv1cDc",
	} {
		if ok, err := people.CheckHash(phc, "password"); err != nil {
			t.Errorf("%s: %v", phc, err)
		} else if ok {
			held++
		}
		if ok, _ := people.CheckHash(phc, "passwore"); ok {
			t.Errorf("%s holds for another password", phc)
		}
	}
	test.Check(t, "passphrase hashes that hold as published", src, 3, float64(held), 0)
}

func TestHashesAreSaltedAndSayTheirParameters(t *testing.T) {
	a, b := people.NewHash("one and the same"), people.NewHash("one and the same")
	if a == b {
		t.Error("two hashes of one passphrase are the same")
	}
	if !strings.HasPrefix(a, "$argon2id$v=19$m=19456,t=2,p=1$") {
		t.Errorf("the hash is %s", a)
	}
	if ok, err := people.CheckHash(a, "one and the same"); !ok || err != nil {
		t.Errorf("%v %v", ok, err)
	}
}

func TestDamagedHashes(t *testing.T) {
	good := people.NewHash("one and the same")
	for _, bad := range []string{"", "plain", good[1:], good + "$", strings.Replace(good, "argon2id", "argon2i", 1), strings.Replace(good, "v=19", "v=16", 1),
		strings.Replace(good, "m=19456", "m=99999999", 1), strings.Replace(good, "t=2", "t=99", 1), strings.Replace(good, "p=1", "p=0", 1), strings.Replace(good, "p=1$", "p=1,x=2$", 1), good[:len(good)-8] + "!!!!", good[:60]} {
		if _, err := people.CheckHash(bad, "one and the same"); err == nil {
			t.Errorf("%q was read", bad)
		}
	}
}

func FuzzHash(f *testing.F) {
	f.Add("$argon2id$v=19$m=256,t=2,p=2$c29tZXNhbHQ$bQk8UB/VmZZF4Oo79iDXuL5/0ttZwg2f/5U52iv1cDc")
	f.Add("$argon2id$v=19$m=19456,t=2,p=1$$")
	f.Fuzz(func(t *testing.T, phc string) {
		if again, err := people.ReadHash(phc); err == nil {
			if twice, err := people.ReadHash(again); err != nil || twice != again {
				t.Errorf("%q reads as %q, and that as %q, %v", phc, again, twice, err)
			}
		}
	})
}
