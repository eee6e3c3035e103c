package web

import (
	"errors"
	"fmt"
	"net/http"
	"strconv"

	"dogshore/record"
	"dogshore/store"
)

// sentPicture says how much of a picture is here.
type sentPicture struct {
	Have  int64 `json:"have"`
	Whole bool  `json:"whole"`
}

// came says how much of a picture is here, so that a phone goes on where its
// connection broke off.
func (s *Site) came(w http.ResponseWriter, r *http.Request) error {
	f := s.folder.Load()
	if f == nil {
		return errNoBuild
	}
	n, whole, err := f.Came(r.Context(), record.File{SHA256: r.PathValue("hash"), Name: "picture"})
	if err != nil {
		return refused(err.Error()+".", "It can't be taken.")
	}
	return answerJSON(w, sentPicture{n, whole})
}

// piece keeps one piece of a picture: POST ?from=BYTE&size=BYTES.
func (s *Site) piece(w http.ResponseWriter, r *http.Request) error {
	f := s.folder.Load()
	if f == nil {
		return errNoBuild
	}
	if r.Header.Get("Content-Type") != "application/octet-stream" {
		return problem{http.StatusUnsupportedMediaType, "A picture is sent as bytes.", "Nothing was kept."}
	}
	from, err1 := strconv.ParseInt(r.URL.Query().Get("from"), 10, 64)
	size, err2 := strconv.ParseInt(r.URL.Query().Get("size"), 10, 64)
	switch {
	case err1 != nil || err2 != nil || from < 0 || size <= 0 || from >= size:
		return refused("The address does not say where the piece belongs.", "Nothing was kept.")
	case size > longestFile:
		return tooLong(longestFile)
	}
	n, whole, err := f.Append(r.Context(), record.File{SHA256: r.PathValue("hash"), Name: "picture"}, from, size, r.Body)
	var long *http.MaxBytesError
	switch {
	case errors.Is(err, store.ErrGap): // the phone reads how much is here, and goes on from there
	case errors.As(err, &long):
		return err
	case err != nil:
		return refused(fmt.Sprintf("The picture was not kept: %v.", err), "It is still on the phone.")
	}
	return answerJSON(w, sentPicture{n, whole})
}
