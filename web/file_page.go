package web

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"path"
	"strings"
	"time"

	"dogshore/desk"
	"dogshore/record"
	"dogshore/store"
)

// takeFiles keeps the files that a form brings.
func (s *Site) takeFiles(r *http.Request, f *store.Folder, k *record.Kind, values map[string]record.Value, wrong map[string]string) error {
	for i := range k.Fields {
		d := &k.Fields[i]
		if d.Type != record.FileType || r.MultipartForm == nil {
			continue
		}
		sent := r.MultipartForm.File[d.Name]
		if len(sent) == 0 || sent[0].Size == 0 {
			continue
		}
		in, err := sent[0].Open()
		if err != nil {
			return fmt.Errorf("read the file that was sent: %w", err)
		}
		file, err := f.Put(r.Context(), path.Base(sent[0].Filename), in, longestFile)
		if err := errors.Join(err, in.Close()); err != nil {
			wrong[d.Name] = desk.Capital(err.Error()) + "."
			continue
		}
		values[d.Name] = record.Encode(file)
	}
	return nil
}

// shownAs lists what a browser may show by itself; all else is only handed
// over, so that a file that somebody sent can't run here.
var shownAs = map[string]string{
	".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".png": "image/png", ".gif": "image/gif", ".webp": "image/webp", ".txt": "text/plain; charset=utf-8",
	".mp4": "video/mp4", ".m4v": "video/mp4", ".mov": "video/quicktime", ".webm": "video/webm",
}

// filePage hands out a file of the build folder.
func (s *Site) filePage(w http.ResponseWriter, r *http.Request) error {
	f := s.folder.Load()
	if f == nil {
		return notFound("There is no build here yet.")
	}
	name := path.Base(r.PathValue("name"))
	in, err := f.File(record.File{SHA256: r.PathValue("hash"), Name: name})
	if err != nil {
		return notFound("The file %s is not in the build folder.", name)
	}
	defer func() { _ = in.Close() }() // only read
	kind, ok := shownAs[strings.ToLower(path.Ext(name))]
	if !ok {
		kind = "application/octet-stream"
		w.Header().Set("Content-Disposition", "attachment")
	}
	if strings.HasPrefix(kind, "video/") { // played piece by piece, as fast as somebody looks
		_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(10 * patience))
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Cache-Control", "private, no-cache") // kept by the browser, asked for each time: it may have been taken out
	w.Header().Set("ETag", `"`+r.PathValue("hash")+`"`)
	w.Header().Set("Content-Security-Policy", "default-src 'none'; sandbox")
	http.ServeContent(w, r, "", time.Time{}, io.ReadSeeker(in))
	return nil
}
