package web_test

import (
	"net/http"
	"strings"
	"testing"

	"dogshore/record"
	"dogshore/store"
)

// paths lists a page of every kind: each is opened with an empty, a typical
// and a hostile build.
func paths() []string {
	out := []string{"/", "/entry/none", "/of/part/none", "/nothing", "/part/none", "/point/none",
		"/visits", "/walk", "/visit/v2", "/visit/v1?as-of=2027-02-10", "/letter-draft", "/letter/none", "/step/none", "/launch?all=yes",
		"/programme?part=part/deck&trade=laminators&place=place/foredeck&from=2027-01-01&to=2027-12-31&scale=days",
		"/programme?part=%22%3E%3Cscript%3E&trade=%3Cscript%3E&place=x&scale=%3Cscript%3E", "/programme?from=tomorrow", "/programme?from=2027-05-01&to=2027-04-01",
		"/programme?if=deck-core&later=2&more=3", "/programme?if=%3Cscript%3E&later=1", "/programme?if=deck-core&later=%3Cscript%3E", "/step/deck-core?later=1,5&more=-3"}
	for _, p := range []string{"/", "/points", "/point/stem-eye", "/point/galley", "/boat", "/part/deck", "/part/hull", "/programme", "/step/deck-core", "/step/deck-gelcoat", "/launch", "/promises", "/items", "/requirements", "/people", "/sisters", "/calendar", "/kinds", "/words", "/key", "/start", "/acts", "/intake", "/pictures"} {
		out = append(out, p, p+"?as-of=2027-02-10", p+"?as-of=2027-02-10&knew=then")
	}
	for _, k := range record.Kinds() {
		out = append(out, "/list/"+k.Name, "/add/"+k.Name)
	}
	for _, x := range []string{"part/deck", "step/deck-core", "point/stem-eye", "visit/v2", "person/ada", "item/mast", "defect/df1", "photo/ph1", "build/build", "sighting/s1"} {
		out = append(out, "/of/"+x, "/edit/"+x, "/of/"+x+"?as-of=2027-02-10", "/of/"+x+"?as-of=2027-02-10&knew=then")
	}
	return out
}

func TestEveryPageOpens(t *testing.T) {
	for _, b := range []struct {
		name string
		make func(testing.TB) *store.Folder
	}{{"empty", emptyBuild}, {"typical", typicalBuild}, {"hostile", hostileBuild}} {
		t.Run(b.name, func(t *testing.T) {
			v := visit(t, b.make(t))
			for _, p := range paths() {
				w := v.get(p)
				body := w.Body.String()
				if w.Code == http.StatusSeeOther {
					continue
				}
				if w.Code >= 500 || !strings.Contains(body, "</html>") {
					t.Errorf("%s: %d %.200s %s", p, w.Code, body, v.log.String())
				}
				if strings.Contains(body, "<script>") || strings.Contains(body, "<img src=x") || strings.Contains(body, "style=") || strings.Contains(body, "ZgotmplZ") {
					t.Errorf("%s: a text broke out of its place", p)
				}
				if b.name != "empty" && w.Code == http.StatusOK && strings.Contains(body, "<no value>") {
					t.Errorf("%s: a value is missing", p)
				}
			}
		})
	}
}
