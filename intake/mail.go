package intake

import (
	"bytes"
	"encoding/base64"
	"errors"
	"fmt"
	"html"
	"io"
	"mime"
	"mime/multipart"
	"mime/quotedprintable"
	"net/mail"
	"regexp"
	"strings"

	"dogshore/calendar"
	"dogshore/workbook"
)

// Bounds of what is read of a mail.
const (
	mailDepth = 8   // parts within parts
	mailParts = 200 // parts in all
)

// parseMail reads a mail as RFC 5322 and MIME have it: sender, day in the
// sender's own zone, subject, and the text; of attachments only the names.
func parseMail(raw []byte) (Message, error) {
	in, err := mail.ReadMessage(bytes.NewReader(raw))
	if err != nil {
		return Message{}, err
	}
	words := mime.WordDecoder{CharsetReader: charset}
	header := func(name string) string {
		s, err := words.DecodeHeader(in.Header.Get(name))
		if err != nil {
			return in.Header.Get(name)
		}
		return s
	}
	m := Message{From: header("From"), Title: header("Subject")}
	if t, err := in.Header.Date(); err == nil {
		m.Day = calendar.Of(t)
	}
	p := mailReader{m: &m}
	err = p.part(in.Header.Get("Content-Type"), in.Header.Get("Content-Transfer-Encoding"), "", in.Body, 0)
	if m.Text == "" {
		m.Text = p.html
	}
	return m, err
}

type mailReader struct {
	m     *Message
	html  string
	parts int
}

// part reads one part, and the parts in it.
func (p *mailReader) part(contentType, encoding, disposition string, body io.Reader, depth int) error {
	if depth > mailDepth || p.parts > mailParts {
		return errors.New("it has more parts than a mail has")
	}
	p.parts++
	kind, params, err := mime.ParseMediaType(contentType)
	if err != nil {
		kind = "text/plain"
	}
	_, file, _ := mime.ParseMediaType(disposition)
	name := file["filename"]
	if name == "" {
		name = params["name"]
	}
	if strings.HasPrefix(kind, "multipart/") {
		return p.parts2(multipart.NewReader(body, params["boundary"]), depth)
	}
	if name != "" || strings.HasPrefix(disposition, "attachment") || !strings.HasPrefix(kind, "text/") {
		p.m.Left = append(p.m.Left, short(strings.TrimSpace(name+" "+kind)))
		return nil
	}
	switch strings.ToLower(strings.TrimSpace(encoding)) {
	case "quoted-printable":
		body = quotedprintable.NewReader(body)
	case "base64":
		body = base64.NewDecoder(base64.StdEncoding, body)
	}
	r, err := charset(params["charset"], body)
	if err != nil {
		return err
	}
	text, err := io.ReadAll(r)
	if err != nil && len(text) == 0 {
		return err
	}
	if kind == "text/html" {
		p.html += stripped(string(text))
	} else {
		p.m.Text += string(text) + "\n"
	}
	return nil
}

func (p *mailReader) parts2(r *multipart.Reader, depth int) error {
	for {
		part, err := r.NextRawPart()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			if p.m.Text != "" { // cut off behind the text
				return nil
			}
			return err
		}
		h := part.Header
		if err := p.part(h.Get("Content-Type"), h.Get("Content-Transfer-Encoding"), h.Get("Content-Disposition"), part, depth+1); err != nil {
			return err
		}
	}
}

// charset reads the few ways in which mails are written.
func charset(name string, in io.Reader) (io.Reader, error) {
	switch strings.ToLower(name) {
	case "", "utf-8", "us-ascii", "ascii", "utf8", "iso-8859-1", "iso-8859-15", "latin1", "windows-1252":
		raw, err := io.ReadAll(io.LimitReader(in, LongestMessage))
		if err != nil && len(raw) == 0 {
			return nil, err
		}
		text, err := decodeText(raw)
		return strings.NewReader(text), err
	}
	return nil, fmt.Errorf("it is written in %q, which is not read: paste its text", name)
}

func decodeText(raw []byte) (string, error) {
	text, _, err := workbook.Decode(raw)
	return string(text), err
}

var (
	htmlHidden = regexp.MustCompile(`(?is)<(script|style|head)\b.*?</(script|style|head)>`)
	htmlBreak  = regexp.MustCompile(`(?i)<(br|/p|/div|/tr|/li|/h\d)\b[^>]*>`)
	htmlTag    = regexp.MustCompile(`<[^>]*>`)
)

// stripped returns the text of a mail that has no plain one.
func stripped(s string) string {
	s = htmlHidden.ReplaceAllString(s, "")
	s = htmlBreak.ReplaceAllString(s, "\n")
	return html.UnescapeString(htmlTag.ReplaceAllString(s, ""))
}
