package web

import (
	"bytes"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"net/http"
	"path"
	"strings"
	"sync"

	"dogshore/intake"
)

// pending keeps what was handed in until it is accepted: nothing of it is
// written before. Only the last few are kept; the browser can send them again.
type pending struct {
	mu   sync.Mutex
	kept []handed
}

// handed is what one person handed in at once.
type handed struct {
	id    string
	files []intake.File
	names []string
}

const pendingKept = 3

func (p *pending) keep(h handed) string {
	p.mu.Lock()
	defer p.mu.Unlock()
	h.id = rand.Text()
	if len(p.kept) == pendingKept {
		p.kept = p.kept[1:]
	}
	p.kept = append(p.kept, h)
	return h.id
}

func (p *pending) find(id string) (handed, bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, h := range p.kept {
		if h.id == id {
			return h, true
		}
	}
	return handed{}, false
}

func (p *pending) drop(id string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	for i, h := range p.kept {
		if h.id == id {
			p.kept = append(p.kept[:i:i], p.kept[i+1:]...)
			return
		}
	}
}

// handedIn reads the files and the pasted message of a form.
func handedIn(r *http.Request) (handed, error) {
	var h handed
	add := func(name string, b []byte) {
		h.files = append(h.files, intake.File{Name: name, Data: bytes.NewReader(b), Size: int64(len(b))})
		h.names = append(h.names, name)
	}
	if r.MultipartForm != nil {
		for _, sent := range r.MultipartForm.File["file"] {
			if sent.Size == 0 {
				continue
			}
			in, err := sent.Open()
			if err != nil {
				return h, fmt.Errorf("read %s: %w", sent.Filename, err)
			}
			b, err := io.ReadAll(in)
			if err := errors.Join(err, in.Close()); err != nil {
				return h, fmt.Errorf("read %s: %w", sent.Filename, err)
			}
			add(path.Base(strings.ReplaceAll(sent.Filename, "\\", "/")), b)
		}
	}
	if text := r.PostFormValue("message"); strings.TrimSpace(text) != "" {
		add("pasted message.txt", []byte(text))
	}
	return h, nil
}
