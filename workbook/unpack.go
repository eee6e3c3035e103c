package workbook

import (
	"archive/zip"
	"encoding/xml"
	"fmt"
	"io"
	"path"
	"strings"
)

// archive is the XLSX file's parts, and how much may still be unpacked.
type archive struct {
	parts  map[string]*zip.File
	left   int64
	tokens int
}

var (
	errTooMuch = fmt.Errorf("more is packed into it than is read of one file, which is %d MB or %d million tags", maxUnpacked>>20, maxTokens>>20)
	errToken   = fmt.Errorf("a tag or text in it is longer than %d kB", maxToken>>10)
	errDeep    = fmt.Errorf("its tags stand more than %d deep in each other", maxDepth)
)

func openArchive(r io.ReaderAt, size int64) (*archive, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, fmt.Errorf("%w: the file is cut off or damaged (%w)", ErrKind, err)
	}
	if len(z.File) > maxParts {
		return nil, fmt.Errorf("%w: it is packed of %d parts; at most %d are read", ErrKind, len(z.File), maxParts)
	}
	a := &archive{parts: map[string]*zip.File{}, left: maxUnpacked}
	for _, f := range z.File {
		name := strings.ToLower(strings.TrimPrefix(f.Name, "/"))
		if _, twice := a.parts[name]; !twice {
			a.parts[name] = f
		}
	}
	return a, nil
}

// open returns the tags of a part, or nil if there is no such part.
func (a *archive) open(name string) (*tags, error) {
	f := a.parts[strings.ToLower(strings.TrimPrefix(path.Clean("/"+name), "/"))]
	if f == nil {
		return nil, nil
	}
	rc, err := f.Open()
	if err != nil {
		return nil, fmt.Errorf("%w: %s in it can't be unpacked (%w)", ErrKind, name, err)
	}
	t := &tags{archive: a, rc: rc}
	t.xml = xml.NewDecoder(t)
	t.xml.Strict = true
	t.xml.CharsetReader = func(charset string, in io.Reader) (io.Reader, error) {
		return nil, fmt.Errorf("it is written in %s; UTF-8 is asked for", charset)
	}
	return t, nil
}

// tags reads one part's XML, tag by tag, within the bounds. It keeps no tree.
type tags struct {
	archive *archive
	rc      io.ReadCloser
	xml     *xml.Decoder
	token   int64 // bytes that the token being read may still take
	depth   int
}

// Read lets the decoder have no more than one token's worth, and counts.
func (t *tags) Read(p []byte) (int, error) {
	if t.token <= 0 {
		return 0, errToken
	}
	if t.archive.left <= 0 {
		return 0, errTooMuch
	}
	n, err := t.rc.Read(p[:min(int64(len(p)), t.token, t.archive.left)])
	t.token -= int64(n)
	t.archive.left -= int64(n)
	return n, err
}

func (t *tags) close() { _ = t.rc.Close() }

// next returns the next tag or text; io.EOF at the end. The token holds until
// the following call.
func (t *tags) next() (xml.Token, error) {
	t.token = maxToken
	if t.archive.tokens++; t.archive.tokens > maxTokens {
		return nil, errTooMuch
	}
	tok, err := t.xml.RawToken()
	if err != nil {
		return nil, err
	}
	switch tok.(type) {
	case xml.StartElement:
		if t.depth++; t.depth > maxDepth {
			return nil, errDeep
		}
	case xml.EndElement:
		t.depth--
	}
	return tok, nil
}

// each calls visit for every start tag of a part until it returns an error.
// A part that is not there has no tags.
func (a *archive) each(name string, visit func(xml.StartElement) error) error {
	t, err := a.open(name)
	if t == nil {
		return err
	}
	defer t.close()
	for {
		tok, err := t.next()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return fmt.Errorf("%w: %s in it: %w", ErrKind, name, err)
		}
		if s, ok := tok.(xml.StartElement); ok {
			if err := visit(s); err != nil {
				return err
			}
		}
	}
}

// attr returns the value of a tag's attribute, whatever its namespace.
func attr(s xml.StartElement, name string) string {
	for _, a := range s.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}
