package web

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"sort"
	"strings"

	"dogshore/diary"
	"dogshore/drawing"
	"dogshore/internal/draw"
	"dogshore/record"
)

//go:embed static
var staticFiles embed.FS

// assets are the style, script and type that pages load. They stand under one
// address that carries a hash of them all, so that a browser may keep them for
// ever and modules can import each other by relative address.
type assets struct {
	files map[string][]byte
	base  string
}

// newAssets reads the embedded files and joins the style sheets, in the order
// of their names, into one.
func newAssets() (*assets, error) {
	a := &assets{files: map[string][]byte{}}
	var names []string
	err := fs.WalkDir(staticFiles, "static", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := staticFiles.ReadFile(name)
		if err != nil {
			return err
		}
		short := strings.TrimPrefix(name, "static/")
		a.files[short] = b
		names = append(names, short)
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("read the embedded assets: %w", err)
	}
	sort.Strings(names)
	sum := sha256.New()
	style := []byte(draw.Style + diary.Style)
	fmt.Fprintf(sum, "%d\n%s", len(style), style)
	for _, n := range names {
		fmt.Fprintf(sum, "%s %d\n", n, len(a.files[n]))
		sum.Write(a.files[n])
		if path.Ext(n) == ".css" {
			style = append(style, a.files[n]...)
		}
	}
	a.files["sheet.css"] = style
	for _, st := range record.Stages { // the pictures of stages: fetched once, and kept
		name := "key/" + st.Slug + ".svg"
		a.files[name] = drawing.Key(st.Slug).File(string(a.files["style/00-colours.css"]) + ":root { color: var(--ink); }")
		fmt.Fprintf(sum, "%s %d\n", name, len(a.files[name]))
		sum.Write(a.files[name])
	}
	a.base = "/static/" + hex.EncodeToString(sum.Sum(nil))[:16] + "/"
	return a, nil
}

// address returns where a page finds the asset of that name.
func (a *assets) address(name string) (string, error) {
	if _, ok := a.files[name]; !ok {
		return "", fmt.Errorf("web: internal error: there is no asset %q", name)
	}
	return a.base + name, nil
}

func (a *assets) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	b, ok := a.files[strings.TrimPrefix(r.URL.Path, a.base)]
	if !ok || !strings.HasPrefix(r.URL.Path, a.base) {
		http.NotFound(w, r)
		return
	}
	h := w.Header()
	h.Set("Content-Type", contentType(r.URL.Path))
	if strings.HasPrefix(r.URL.Path, a.base+"key/") {
		h.Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; sandbox") // a picture with its style in it
	}
	h.Set("Cache-Control", "public, max-age=31536000, immutable")
	_, _ = w.Write(b) // the reader may have gone
}

func contentType(name string) string {
	switch path.Ext(name) {
	case ".woff2":
		return "font/woff2"
	case ".js":
		return "text/javascript; charset=utf-8"
	}
	if t := mime.TypeByExtension(path.Ext(name)); t != "" {
		return t
	}
	return "application/octet-stream"
}
