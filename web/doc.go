// Package web serves the pages of one build folder on the loopback interface.
//
// The way of a request: guard (guard.go: host, origin, size, headers), the mux
// (routes.go, the one list of addresses), a handler (a file per page), which
// takes a view of the build (view.go: record and review as of the day asked,
// remembered until something new arrives), fills a typed page struct and
// renders it to a buffer (pages.go). A form that is refused comes back with
// what was typed; one that is taken redirects to the page it changed.
//
// Every page struct embeds Sheet (sheet.go): the title block along the foot,
// the list of sheets, and the links, which keep the day that is looked at.
// Pages are readable and fillable without script; static/script holds small
// modules that help.
package web
