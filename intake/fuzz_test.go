package intake_test

import (
	"bytes"
	"testing"
	"time"

	"dogshore/calendar"
	"dogshore/intake"
	"dogshore/journal"
	"dogshore/record"
)

// whatever reads any file under any name: it must end in an answer, and all
// that it would write must pass the door.
func whatever(t *testing.T, name string, raw []byte) {
	r := intake.Read([]intake.File{{Name: name, Data: bytes.NewReader(raw), Size: int64(len(raw))}}, boat(t), intake.Options{Today: today})
	stamp := journal.Stamp(1000)
	seen := map[string]bool{}
	for _, e := range r.Entries(func(author string, since calendar.Day, grounds record.Grounds) journal.Entry {
		stamp++
		return journal.Entry{Stamp: stamp, Since: since, Author: author, Grounds: grounds, Version: journal.Version, Wall: time.Unix(0, 0)}
	}) {
		if _, err := journal.Check(e); err != nil {
			t.Fatalf("%s: what was read is refused at the door: %v", e.Origin, err)
		}
		if seen[e.ID] {
			t.Fatalf("%s: two entries of the id %s", e.Origin, e.ID)
		}
		seen[e.ID] = true
	}
	for _, a := range r.Asks {
		if a.ID == "" || a.Question == "" || len(a.Readings) == 0 && !a.Free {
			t.Fatalf("a question that can't be answered: %+v", a)
		}
	}
}

func FuzzCSV(f *testing.F) {
	for _, s := range []string{
		"name;side\nDeck;port\n", "\xef\xbb\xbfquestion,part\n\"a\nb\",Deck\n", "sep=|\nday|by\n2026-05-01|owner\n",
		"day,by\n,\n", "name,within\nA,A\nA,A\n", "key,name\na/b,c\nx,\n", "visit,step,state\n2026-05-01,Deck gelcoat,done\n",
		"point,name,weight [kg],price\np,a,1.200,$ 3\n", "text,day,about\nx,1.5.2026,Deck\nx,1.5.2026,Deck\n", "name,withdrawn,since\nDeck,yes,1.5.2026\n",
	} {
		for kind := range 3 {
			f.Add(kind, []byte(s))
		}
	}
	names := []string{"parts.csv", "options.csv", "sightings.csv", "notes.csv", "visits.csv", "statements.csv", "start sheet.csv", "open-points.csv", "list.csv", "measurements.csv", "build.csv", "photos.csv"}
	f.Fuzz(func(t *testing.T, kind int, raw []byte) {
		whatever(t, names[(kind%len(names)+len(names))%len(names)], raw)
	})
}

func FuzzXLSX(f *testing.F) {
	for _, name := range []string{"counted-from-1900.xlsx", "counted-from-1904.xlsx"} {
		f.Add(committed(f, name))
	}
	f.Add([]byte("PK\x03\x04"))
	f.Fuzz(func(t *testing.T, raw []byte) { whatever(t, "a.xlsx", raw) })
}

func FuzzMessage(f *testing.F) {
	f.Add(true, []byte(letter))
	f.Add(false, []byte(pasted))
	f.Add(false, []byte("From: \nDate: 31.2.\n\n\n12.4. W34 week of week of May 2027"))
	f.Add(true, []byte("Content-Type: multipart/mixed; boundary=\n\n--\n\n--"))
	f.Fuzz(func(t *testing.T, mail bool, raw []byte) {
		name := "a.txt"
		if mail {
			name = "a.eml"
		}
		whatever(t, name, raw)
	})
}
