package picture

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// The test binary is what decodes HEIC in these tests, as the program is
// outside of them.
func TestMain(m *testing.M) {
	if os.Getenv(childMark) != "" {
		switch os.Getenv("PICTURE_CHILD") { // a decoder that a file has led astray
		case "hangs":
			for {
				time.Sleep(time.Hour) // a bare select would be a deadlock, and end
			}
		case "floods":
			for {
				if _, err := os.Stdout.Write(make([]byte, 1<<20)); err != nil {
					os.Exit(1)
				}
			}
		}
	}
	if code, child := Child(os.Stdin, os.Stdout, os.Stderr); child {
		os.Exit(code)
	}
	os.Exit(m.Run())
}

func made(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("testdata", "made", name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func read(b []byte) (Picture, error) { return Read(bytes.NewReader(b), int64(len(b))) }
