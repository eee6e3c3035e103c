package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"path"
	"regexp"
	"sort"
)

// pagesKept are the pages that a phone keeps from the start; those of visits
// are kept when they are opened.
var pagesKept = []string{"/walk", blankPath, "/key", "/away"}

var blankPath = pathOf(blank)

// service hands out the script that answers for these pages while there is no
// connection. It names the assets of this program's version, so that a new
// version is another script, and is fetched.
func (s *Site) service(w http.ResponseWriter, _ *http.Request) error {
	var files []string
	for name := range s.assets.files {
		switch path.Ext(name) {
		case ".woff2", ".svg", ".png":
			files = append(files, s.assets.base+name)
		case ".js":
			if name != serviceScript {
				files = append(files, s.assets.base+name)
			}
		}
	}
	sort.Strings(files)
	files = append(files, s.assets.base+"sheet.css")
	head, err := json.Marshal(map[string]any{"base": s.assets.base, "files": files, "pages": pagesKept, "blank": blankPath})
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
	w.Header().Set("Cache-Control", "no-cache")
	_, err = fmt.Fprintf(w, "const made = %s;\nconst send = (() => {\n%s\n%s\nreturn send;\n})();\n%s", head,
		plainScript(s.assets.files["script/kept.js"]), plainScript(s.assets.files["script/send.js"]), s.assets.files[serviceScript])
	return err
}

const serviceScript = "script/service.js"

var imports, exports = regexp.MustCompile(`(?m)^import .*$`), regexp.MustCompile(`(?m)^export `)

// plainScript is a module of ours as part of a plain script: not every browser
// starts modules where no window is.
func plainScript(module []byte) []byte {
	return exports.ReplaceAll(imports.ReplaceAll(module, nil), nil)
}

// manifest says how the pages stand among a phone's programs.
func (s *Site) manifest(w http.ResponseWriter, _ *http.Request) error {
	icon := func(size string) map[string]string {
		return map[string]string{"src": s.assets.base + "mark-" + size + ".png", "sizes": size + "x" + size, "type": "image/png", "purpose": "any"}
	}
	w.Header().Set("Content-Type", "application/manifest+json; charset=utf-8")
	w.Header().Set("Cache-Control", "no-cache")
	return json.NewEncoder(w).Encode(map[string]any{
		"name": "Dogshore", "short_name": "Dogshore", "id": "/walk", "start_url": "/walk", "scope": "/", "display": "standalone",
		"background_color": "#fdfaf3", "theme_color": "#fdfaf3",
		"icons": []map[string]string{icon("192"), icon("512")},
	})
}

// away is what a phone shows of a page that it does not keep.
func (s *Site) away(w http.ResponseWriter, r *http.Request) error {
	return s.render(w, http.StatusOK, "away", &problemPage{Sheet: s.bareSheet(r, "No connection")})
}
