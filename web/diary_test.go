package web_test

import (
	"archive/zip"
	"bytes"
	"image"
	"image/jpeg"
	"io"
	"net/http"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/record"
	"dogshore/store"
)

// photographed puts a picture of the defect and one of the deck on file.
func photographed(t *testing.T, f *store.Folder) {
	t.Helper()
	for i, key := range []string{"gap", "deck"} {
		var b bytes.Buffer
		m := image.NewGray(image.Rect(0, 0, 900+i, 600))
		for n := range m.Pix {
			m.Pix[n] = uint8(n / 90 % 256)
		}
		if err := jpeg.Encode(&b, m, nil); err != nil {
			t.Fatal(err)
		}
		file, err := f.Put(t.Context(), key+".jpg", &b, 1<<20)
		if err != nil {
			t.Fatal(err)
		}
		write(t, f, calendar.Date(2027, 3, 2), record.Seen, key, record.Photo{Name: key + ".jpg", Visit: "visit/v2", Part: "part/deck", File: file, Note: "the " + key + " from the bow", Before: "step/deck-core"})
	}
	write(t, f, calendar.Date(2027, 3, 2), record.Seen, "ev", record.Evidence{Shows: "defect/df1", Photo: "photo/gap", Visit: "visit/v2"})
}

// A visit reads as a page with its pictures; the diary finds by place, stage
// and word, and links stay on the day that is looked at.
func TestDiaryPages(t *testing.T) {
	f := typicalBuild(t)
	photographed(t, f)
	b := visit(t, f)
	if page := b.get("/diary").Body.String(); !strings.Contains(page, `href="/diary/v2"`) || strings.Index(page, "/diary/v2") > strings.Index(page, "/diary/v1") {
		t.Error("the latest visit does not stand first")
	}
	leaf := b.get("/diary/v2").Body.String()
	for _, want := range []string{"deck skin-coat: done", "how we know: seen", "dry spot at the port edge", "thickness at the hatch: 25 mm", "outside it", "limber holes of 25 mm", "cold in the shed",
		`alt="the gap from the bow"`, "before the deck core", "starts: Mon 22 March 2027"} {
		if !strings.Contains(leaf, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	_, src, _ := strings.Cut(leaf, `<img src="`)
	src, _, _ = strings.Cut(src, `"`)
	w := b.get(src)
	if c, err := jpeg.DecodeConfig(w.Body); err != nil || c.Width != 901 && c.Width != 900 || w.Header().Get("Content-Type") != "image/jpeg" {
		t.Errorf("the picture: %d, %+v, %v", w.Code, c, err)
	}
	_, small, _ := strings.Cut(b.get("/diary").Body.String(), `<img src="`)
	small, _, _ = strings.Cut(small, `"`)
	if c, err := jpeg.DecodeConfig(b.get(small).Body); err != nil || c.Width != 320 {
		t.Errorf("its thumbnail: %+v, %v", c, err)
	}
	for query, want := range map[string]string{"?word=LIMBER": "one thing found", "?place=Deck&stage=Skin+coat": "2 things found", "?word=nowhere": "no things found"} {
		if page := b.get("/diary" + query).Body.String(); !strings.Contains(page, want) {
			t.Errorf("%s: not %q", query, want)
		}
	}
	if page := b.get("/diary?as-of=2027-02-10").Body.String(); strings.Contains(page, "/diary/v2") || !strings.Contains(page, `href="/diary/v1?as-of=2027-02-10"`) {
		t.Error("the past is not kept")
	}
	for path, code := range map[string]int{"/diary/none": 404, "/diary/v2?as-of=2027-02-10": 404, "/diary.zip?without=everything": 422, "/picture/" + strings.Repeat("0", 64) + "/screen": 404} {
		if w := b.get(path); w.Code != code {
			t.Errorf("%s: %d, want %d", path, w.Code, code)
		}
	}
}

// The archive comes from the page, with what was ticked left out.
func TestDiaryArchiveFromThePage(t *testing.T) {
	f := typicalBuild(t)
	photographed(t, f)
	b := visit(t, f)
	for query, pictures := range map[string]int{"": 2, "?without=faults&without=names": 1} {
		w := b.get("/diary.zip" + query)
		if w.Code != http.StatusOK || !strings.Contains(w.Header().Get("Content-Disposition"), "diary-test-sloop.zip") {
			t.Fatalf("%d %v", w.Code, w.Header())
		}
		z, err := zip.NewReader(bytes.NewReader(w.Body.Bytes()), int64(w.Body.Len()))
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, x := range z.File {
			if strings.HasSuffix(x.Name, ".jpg") {
				n++
			}
			in, err := x.Open()
			if err != nil {
				t.Fatal(err)
			}
			data, err := io.ReadAll(in)
			if err != nil || query != "" && (bytes.Contains(data, []byte("dry spot")) || bytes.Contains(data, []byte("Marsh"))) {
				t.Errorf("%s: %v, or it has what was to be left out", x.Name, err)
			}
		}
		if n != pictures {
			t.Errorf("%q: %d pictures, want %d", query, n, pictures)
		}
	}
}

// Hostile names and texts break neither the archive nor the letter for paper.
func TestHostilePapers(t *testing.T) {
	f := hostileBuild(t)
	photographed(t, f)
	b := visit(t, f)
	if w := b.get("/letter-draft.pdf"); w.Code != http.StatusOK || !bytes.HasPrefix(w.Body.Bytes(), []byte("%PDF-")) {
		t.Errorf("the letter: %d %.80q", w.Code, w.Body.String())
	}
	for _, query := range []string{"", "?without=names&without=prices&without=faults"} {
		w := b.get("/diary.zip" + query)
		z, err := zip.NewReader(bytes.NewReader(w.Body.Bytes()), int64(w.Body.Len()))
		if err != nil {
			t.Fatalf("%q: %d, %v", query, w.Code, err)
		}
		for _, x := range z.File {
			if strings.Trim(x.Name, "abcdefghijklmnopqrstuvwxyz0123456789-./") != "" || strings.Contains(x.Name, "..") {
				t.Errorf("a file is called %q", x.Name)
			}
			in, err := x.Open()
			if err != nil {
				t.Fatal(err)
			}
			data, err := io.ReadAll(in)
			if err != nil || bytes.Contains(data, []byte("<script>document")) || bytes.Contains(data, []byte("<img src=x")) {
				t.Errorf("%s: %v, or a text broke out of it", x.Name, err)
			}
		}
	}
}
