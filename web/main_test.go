package web_test

import (
	"os"
	"testing"

	"dogshore/picture"
)

// The test binary is what decodes HEIC in these tests, as the program is
// outside of them.
func TestMain(m *testing.M) {
	if code, child := picture.Child(os.Stdin, os.Stdout, os.Stderr); child {
		os.Exit(code)
	}
	os.Exit(m.Run())
}
