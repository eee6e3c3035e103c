package intake_test

import (
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/intake"
	"dogshore/record"
)

const pasted = `From: Marek Lind
Date: Tue 12 May 2026
Subject: where we are

Good evening,
the deck skin coat starts on Monday 18 May, if the resin comes.
Port hull core will be done in week 23. We may need 3/4 more of it.
Launch is end of September, I think.
`

func TestPastedMessage(t *testing.T) {
	read := func(answers map[string]string) *intake.Reading {
		return intake.Read([]intake.File{file("pasted message.txt", pasted)}, boat(t), intake.Options{Today: today, Answers: answers})
	}
	r := read(nil)
	if len(r.Reads) != 1 {
		t.Fatalf("only the note is read in silence:\n%s", printed(t, r))
	}
	n := r.Reads[0]
	if n.Self.Kind() != "note" || n.Grounds != record.Written || n.Since != calendar.Date(2026, 5, 12) {
		t.Errorf("the note: %+v", n)
	}
	from, _, _ := says(r, n.Self, "from")
	day, _, _ := says(r, n.Self, "day")
	text, _, _ := says(r, n.Self, "text")
	if from != "person/marek" || day != "2026-05-12" || !strings.Contains(text, "if the resin comes") || !strings.HasPrefix(text, "where we are") {
		t.Errorf("from %q, on %q: %q", from, day, text)
	}
	var stated []string
	answers := map[string]string{}
	for _, a := range r.Asks {
		if strings.Contains(a.ID, " date ") {
			stated = append(stated, a.Readings[0])
			answers[a.ID] = a.Readings[0]
		}
	}
	want := "Deck skin coat starts 2026-05-18|Port hull core is done 2026-W23|Nobody's Boat launch 2026-09-21/2026-09-30"
	if got := strings.Join(stated, "|"); got != want || len(r.Asks) != 3 {
		t.Errorf("dates offered: %s, want %s\n%s", got, want, printed(t, r))
	}
	r = read(answers)
	if got, _, n := says(r, "statement/deck-skin-coat-2026-05-12-starts-2026-05-18", "by"); got != "person/marek" || n.Grounds != record.Written {
		t.Errorf("a date taken as a statement: by %q, %s\n%s", got, n.Grounds, printed(t, r))
	}
	for id := range answers {
		answers[id] = "no statement"
	}
	if r = read(answers); len(r.Reads) != 1 || len(r.Asks) != 0 {
		t.Errorf("dates that are no statements:\n%s", printed(t, r))
	}
}

func TestMessageTwiceIsOneNote(t *testing.T) {
	s := newShed(t)
	opt := intake.Options{Answers: map[string]string{"m.txt from": "", "m.txt day": "2026-05-11"}}
	r := s.read(opt, file("m.txt", "The foam is here.\n"))
	s.accept(r)
	if again := s.read(opt, file("m.txt", "The foam is here.\n")); len(again.Reads) != 0 {
		t.Errorf("again:\n%s", printed(t, again))
	}
}

func TestMessageWithoutSenderAndDay(t *testing.T) {
	r := intake.Read([]intake.File{file("m.txt", "The foam is here.\n")}, boat(t), intake.Options{Today: today})
	if a := asked(r, "m.txt day"); a == nil || len(r.Reads) != 0 {
		t.Errorf("no day:\n%s", printed(t, r))
	}
	r = intake.Read([]intake.File{file("m.txt", "From: Lind\n\nThe foam is here.\n")}, boat(t), intake.Options{Today: today, Answers: map[string]string{"m.txt day": "2026-05-11"}})
	a := asked(r, "m.txt from")
	if a == nil || strings.Join(a.Readings, "|") != "Ida Lind|Marek Lind" {
		t.Errorf("two of that name: %+v", a)
	}
	if len(r.Reads) != 1 {
		t.Errorf("the note is kept without its sender:\n%s", printed(t, r))
	}
	r = intake.Read([]intake.File{file("m.txt", "From: x\nDate: 03/04/2026\n\nThe foam is here.\n")}, boat(t), intake.Options{Today: today})
	if asked(r, "m.txt day") == nil {
		t.Errorf("a day of two readings:\n%s", printed(t, r))
	}
}

const letter = "From: =?utf-8?q?M=C3=A1rek_L=2E?= <marek@yard.example>\r\n" +
	"To: owner@boat.example\r\n" +
	"Date: Wed, 13 May 2026 23:40:00 -0900\r\n" +
	"Subject: =?utf-8?b?VGFua3M=?=\r\n" +
	"MIME-Version: 1.0\r\n" +
	"Content-Type: multipart/mixed; boundary=\"b1\"\r\n\r\n" +
	"--b1\r\nContent-Type: multipart/alternative; boundary=\"b2\"\r\n\r\n" +
	"--b2\r\nContent-Type: text/plain; charset=iso-8859-1\r\nContent-Transfer-Encoding: quoted-printable\r\n\r\n" +
	"The tanks are in the shed, f=FCr next week.\r\n" +
	"--b2\r\nContent-Type: text/html; charset=utf-8\r\n\r\n<p>not this</p>\r\n--b2--\r\n" +
	"--b1\r\nContent-Type: image/jpeg; name=\"tanks.jpg\"\r\nContent-Disposition: attachment; filename=\"tanks.jpg\"\r\nContent-Transfer-Encoding: base64\r\n\r\nAAAA\r\n--b1--\r\n"

func TestMail(t *testing.T) {
	m, err := intake.ParseMessage("a.eml", []byte(letter), today)
	if err != nil {
		t.Fatal(err)
	}
	if m.Title != "Tanks" || m.Day != calendar.Date(2026, 5, 13) || m.Text != "The tanks are in the shed, für next week." {
		t.Errorf("mail: %+v", m)
	}
	r := intake.Read([]intake.File{file("a.eml", letter)}, boat(t), intake.Options{Today: today})
	if len(r.Reads) != 1 || len(r.Asks) != 0 {
		t.Fatalf("mail:\n%s", printed(t, r))
	}
	if got, _, _ := says(r, r.Reads[0].Self, "from"); got != "person/marek" {
		t.Errorf("found by the address: %q", got)
	}
	if len(r.Skips) != 1 || !strings.Contains(r.Skips[0].Text, "tanks.jpg") {
		t.Errorf("the attachment is not named: %+v", r.Skips)
	}
	html := "From: marek@yard.example\r\nDate: Wed, 13 May 2026 12:00:00 +0000\r\nContent-Type: text/html\r\n\r\n<style>p{}</style><p>Core &amp; skin</p><p>done</p>"
	if m, err := intake.ParseMessage("b.eml", []byte(html), today); err != nil || m.Text != "Core & skin\ndone" {
		t.Errorf("only HTML: %q, %v", m.Text, err)
	}
	for _, bad := range []string{"", "no header at all", "From: a@b\r\nContent-Type: text/plain; charset=klingon\r\n\r\nx"} {
		if m, err := intake.ParseMessage("c.eml", []byte(bad), today); err == nil {
			t.Errorf("%q was read as %+v", bad, m)
		}
	}
	deep := "From: a@b\r\nContent-Type: multipart/mixed; boundary=x\r\n\r\n" + strings.Repeat("--x\r\nContent-Type: multipart/mixed; boundary=x\r\n\r\n", 500)
	if _, err := intake.ParseMessage("d.eml", []byte(deep), today); err == nil {
		t.Error("parts in parts without end were read")
	}
}
