package web

import "net/http"

// handler is a page's or a form's function. An error it returns is answered
// by problem.go.
type handler func(w http.ResponseWriter, r *http.Request) error

// routes is the list of addresses.
func (s *Site) routes() http.Handler {
	mux := http.NewServeMux()
	mux.Handle("GET "+s.assets.base, s.assets)
	for _, at := range []struct {
		pattern string
		handler handler
	}{
		{"GET /{$}", s.reviewPage},
		{"GET /acts", s.actsPage},
		{"GET /act", s.actPage},
		{"POST /ruling", s.rule},
		{"GET /points", s.pointsPage},
		{"GET /point/{key}", s.pointPage},
		{"GET /boat", s.boatPage},
		{"GET /part/{key}", s.partPage},
		{"GET /programme", s.programmePage},
		{"GET /step/{key}", s.stepPage},
		{"GET /launch", s.launchPage},
		{"GET /promises", s.promisesPage},
		{"GET /items", s.itemsPage},
		{"GET /requirements", s.requirementsPage},
		{"GET /people", s.peoplePage},
		{"GET /sisters", s.sistersPage},
		{"GET /calendar", s.calendarPage},
		{"GET /start", s.start},
		{"POST /start", s.lay},
		{"POST /start/visit", s.startVisit},
		{"POST /start/stage", s.startStage},
		{"POST /start/lines/{kind}", s.startRows},
		{"GET /start-sheet.pdf", s.startPaper},
		{"GET /start-sheet.xlsx", s.startBook},
		{"GET /key", s.keyPage},
		{"GET /intake", s.intakePage},
		{"POST /intake", s.handIn},
		{"POST /intake/{id}", s.readAgain},
		{"POST /batch/{batch}/undo", s.undo},
		{"GET /workbook.xlsx", s.workbookFile},
		{"GET /picture-key.pdf", s.keyPaper},
		{"GET /kinds", s.kindsPage},
		{"GET /words", s.wordsPage},
		{"GET /visits", s.visitsPage},
		{"POST /visits", s.begin},
		{"GET /walk", s.walkPage},
		{"GET /walk.pdf", s.walkPaper},
		{"GET /visit/{key}", s.visitPage},
		{"POST /visit/{key}/{kind}", s.note},
		{"POST /visit/{key}/close", s.closeVisit},
		{"GET /letter-draft", s.draftPage},
		{"POST /letter-draft", s.send},
		{"GET /letter/{key}", s.letterPage},
		{"POST /letter/{key}/answers", s.answers},
		{"GET /of/{kind}/{key}", s.recordPage},
		{"GET /list/{kind}", s.listPage},
		{"GET /add/{kind}", s.addPage},
		{"POST /add/{kind}", s.add},
		{"GET /edit/{kind}/{key}", s.editPage},
		{"POST /edit/{kind}/{key}", s.edit},
		{"POST /doubt", s.chooseSide},
		{"GET /file/{hash}/{name}", s.filePage},
		{"GET /entry/{id}", s.entryPage},
		{"POST /entry/{id}/strike", s.strike},
		{"GET /last", s.last},
		{"GET /phones", s.phonesPage},
		{"GET /address.svg", s.addressCode},
		{"POST /phones/code", s.newCode},
		{"POST /phones/code/{id}/end", s.takeBack},
		{"POST /phones/{id}/name", s.renamePhone},
		{"POST /phones/{id}/end", s.putOut},
		{"POST /phones/end-all", s.putAllOut},
		{"POST /phones/passphrase", s.newPassphrase},
		{"POST /sign-out", s.signOut},
		{"GET /trust", s.trustPage},
		{"GET " + rootPath, s.rootFile},
		{"GET /", s.nothingHere},
	} {
		s.register(mux, at.pattern, at.handler)
	}
	return mux
}
