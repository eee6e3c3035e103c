package web

import (
	"net/http"

	"dogshore/journal"
	"dogshore/people"
)

// right says who may use an address from outside. An address without a line
// in the table is the owner's alone, and a test fails.
type right int

const (
	ownerOnly right = iota
	everyone        // who is in, to read
	noting          // who is in, to note what was found at a visit
)

// rights has a line for every address. A mate reads what leads a visit, and
// notes what was found; what changes the boat's definition, settles a point,
// takes something back, brings in or carries out everything, writes to the
// yard or lets people in is the owner's.
var rights = map[string]right{
	"GET /{$}":                       everyone,
	"GET /acts":                      everyone,
	"GET /act":                       everyone,
	"POST /ruling":                   ownerOnly,
	"GET /points":                    everyone,
	"GET /point/{key}":               everyone,
	"GET /boat":                      everyone,
	"GET /part/{key}":                everyone,
	"GET /deck":                      everyone,
	"GET /deck/hand":                 everyone,
	"GET /deck.pdf":                  everyone,
	"POST /deck/places":              ownerOnly,
	"GET /deck/trace":                everyone,
	"POST /deck/trace":               ownerOnly,
	"GET /deck/trace/{key}":          everyone,
	"POST /deck/trace/{key}/scale":   ownerOnly,
	"POST /deck/trace/{key}/outline": ownerOnly,
	"GET /programme":                 everyone,
	"GET /step/{key}":                everyone,
	"GET /launch":                    everyone,
	"GET /promises":                  everyone,
	"GET /items":                     everyone,
	"GET /requirements":              everyone,
	"GET /people":                    everyone,
	"GET /sisters":                   everyone,
	"GET /calendar":                  everyone,
	"GET /start":                     ownerOnly,
	"POST /start":                    ownerOnly,
	"POST /start/visit":              ownerOnly,
	"POST /start/stage":              ownerOnly,
	"POST /start/lines/{kind}":       ownerOnly,
	"GET /start-sheet.pdf":           ownerOnly,
	"GET /start-sheet.xlsx":          ownerOnly,
	"GET /key":                       everyone,
	"GET /intake":                    ownerOnly,
	"POST /intake":                   ownerOnly,
	"POST /intake/{id}":              ownerOnly,
	"POST /batch/{batch}/undo":       ownerOnly,
	"GET /workbook.xlsx":             ownerOnly,
	"GET /picture-key.pdf":           everyone,
	"GET /kinds":                     everyone,
	"GET /words":                     everyone,
	"GET /visits":                    everyone,
	"POST /visits":                   noting,
	"GET /walk":                      everyone,
	"GET /walk.pdf":                  everyone,
	"GET /visit/{key}":               everyone,
	"POST /visit/{key}/{kind}":       noting,
	"POST /visit/{key}/close":        noting,
	"GET /letter-draft":              everyone,
	"POST /letter-draft":             ownerOnly,
	"GET /letter/{key}":              everyone,
	"POST /letter/{key}/answers":     ownerOnly,
	"GET /of/{kind}/{key}":           everyone,
	"GET /list/{kind}":               everyone,
	"GET /add/{kind}":                ownerOnly,
	"POST /add/{kind}":               ownerOnly,
	"GET /edit/{kind}/{key}":         ownerOnly,
	"POST /edit/{kind}/{key}":        ownerOnly,
	"POST /doubt":                    ownerOnly,
	"GET /file/{hash}/{name}":        everyone,
	"GET /entry/{id}":                everyone,
	"POST /entry/{id}/strike":        ownerOnly,
	"GET /last":                      everyone,
	"GET /phones":                    ownerOnly,
	"GET /address.svg":               ownerOnly,
	"POST /phones/code":              ownerOnly,
	"POST /phones/code/{id}/end":     ownerOnly,
	"POST /phones/{id}/name":         ownerOnly,
	"POST /phones/{id}/end":          ownerOnly,
	"POST /phones/end-all":           ownerOnly,
	"POST /phones/feed":              ownerOnly,
	"POST /phones/feed/{id}/end":     ownerOnly,
	"POST /phones/passphrase":        ownerOnly,
	"POST /sign-out":                 everyone,

	"GET /photos":                       everyone,
	"POST /photos/sort":                 ownerOnly,
	"GET /same-view":                    everyone,
	"GET /behind":                       everyone,
	"GET /behind/at":                    everyone,
	"GET /behind/{kind}/{key}":          everyone,
	"GET /photo/{key}":                  everyone,
	"POST /photo/{key}/shows":           ownerOnly,
	"POST /photo/{key}/measure":         ownerOnly,
	"POST /photo/{key}/expunge":         ownerOnly,
	"POST /photo/{key}/still":           ownerOnly,
	"POST /photo/{key}/spot":            ownerOnly,
	"POST /photo/{key}/point":           ownerOnly,
	"GET /visit/blank":                  everyone,
	"GET /visit/{key}/paper":            everyone,
	"POST /visit/{key}/paper":           noting,
	"POST /visit/{key}/sent":            noting,
	"GET /visit/{key}/sent/{hash}":      everyone,
	"POST /visit/{key}/sent/{hash}":     noting,
	"GET /service.js":                   everyone,
	"GET /manifest.webmanifest":         everyone,
	"GET /away":                         everyone,
	"GET /calendar.ics":                 everyone,
	"GET /diary":                        everyone,
	"GET /diary/{key}":                  everyone,
	"GET /diary.zip":                    ownerOnly,
	"GET /letter-draft.pdf":             everyone,
	"POST /words":                       ownerOnly,
	"GET /pictures":                     ownerOnly,
	"POST /pictures":                    ownerOnly,
	"GET /pictures/progress":            ownerOnly,
	"POST /pictures/small":              ownerOnly,
	"GET /pictures/{tray}":              ownerOnly,
	"POST /pictures/{tray}":             ownerOnly,
	"GET /pictures/{tray}/names":        ownerOnly,
	"GET /pictures/{tray}/taken":        ownerOnly,
	"GET /pictures/{tray}/thumb/{hash}": ownerOnly,
	"POST /pictures/{tray}/more":        ownerOnly,
	"GET /picture/{hash}/{size}":        everyone,
	"GET /trust":                        everyone,
	"GET " + rootPath:                   everyone,
	"GET /":                             everyone,
}

// ownersWord are the kinds of what is found at a visit that settle something:
// they are the owner's to write.
var ownersWord = map[string]bool{"decision": true}

// mayUse reports whether whoever sends a request may use an address.
func mayUse(r *http.Request, pattern string) bool {
	v := visitorOf(r)
	if v == nil { // this computer
		return true
	}
	switch {
	case !v.in:
		return false
	case v.Role == people.Owner:
		return true
	case v.Role != people.Mate:
		return false
	}
	return rights[pattern] == everyone || rights[pattern] == noting && mayNote(r, r.PathValue("kind"))
}

// mayNote reports whether whoever sends a request may write a subject of that
// kind at a visit. Handlers that take several at once ask for each.
func mayNote(r *http.Request, kind string) bool {
	v := visitorOf(r)
	return v == nil || v.in && (v.Role == people.Owner || v.Role == people.Mate && !ownersWord[kind])
}

// mayStrike reports whether whoever sends a request may take an entry back on a
// visit's sheet: the owner any, who looks and notes their own.
func mayStrike(r *http.Request, e journal.Entry) bool {
	v := visitorOf(r)
	return v == nil || v.in && (v.Role == people.Owner || v.Role == people.Mate && e.Author == v.Who)
}

// register adds an address, behind its line in the table of rights.
func (s *Site) register(mux *http.ServeMux, pattern string, h handler) {
	s.patterns = append(s.patterns, pattern)
	mux.Handle(pattern, s.answered(func(w http.ResponseWriter, r *http.Request) error {
		if !mayUse(r, pattern) {
			return errNotYours
		}
		return h(w, r)
	}))
}

var errNotYours error = problem{http.StatusForbidden, "That is for the owner to do.", "Nothing was written. You may read, and note what you find at a visit; tell the owner what else you saw."}
