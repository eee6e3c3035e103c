package web_test

import (
	"html"
	"net/url"
	"regexp"
	"strings"
	"testing"
)

var (
	tags     = regexp.MustCompile(`<(input|textarea|select|option|/select|/textarea)\b([^>]*)>`)
	attrName = regexp.MustCompile(`\bname="([^"]*)"`)
	attrVal  = regexp.MustCompile(`\bvalue="([^"]*)"`)
	attrType = regexp.MustCompile(`\btype="([^"]*)"`)
)

// fieldsOf reads the last form of a page whose action is a write, as a browser
// would send it back untouched.
func fieldsOf(t *testing.T, page string) url.Values {
	t.Helper()
	i := strings.LastIndex(page, `<form method="post"`)
	if i < 0 {
		t.Fatalf("the page has no form: %.300s", page)
	}
	form := page[i:]
	out := url.Values{}
	name := ""
	for _, m := range tags.FindAllStringSubmatchIndex(form, -1) {
		tag, attrs := form[m[2]:m[3]], form[m[4]:m[5]]
		value := html.UnescapeString(first(attrVal, attrs))
		switch tag {
		case "input":
			kind := first(attrType, attrs)
			if (kind == "radio" || kind == "checkbox") && !strings.Contains(attrs, "checked") {
				continue
			}
			if n := first(attrName, attrs); n != "" {
				out.Set(n, value)
			}
		case "select":
			name = first(attrName, attrs)
		case "option":
			if name != "" && (strings.Contains(attrs, "selected") || !out.Has(name)) {
				out.Set(name, value)
			}
		case "/select":
			name = ""
		case "textarea":
			text, _, _ := strings.Cut(form[m[1]:], "</textarea>")
			out.Set(first(attrName, attrs), html.UnescapeString(text))
		}
	}
	return out
}

func first(re *regexp.Regexp, s string) string {
	if m := re.FindStringSubmatch(s); m != nil {
		return m[1]
	}
	return ""
}
