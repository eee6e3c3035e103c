package web

import (
	"context"
	"fmt"
	"net/url"
	"path"
	"strings"

	"dogshore/picture"
	"dogshore/record"
	"dogshore/store"
)

// Screen returns a picture of the build folder as a JPEG at the size of a
// screen. It was drawn anew, so nothing is in it but the picture: no position,
// no camera, no time. An error says why there is none.
func Screen(ctx context.Context, f *store.Folder, file record.File) ([]byte, error) {
	if err := picture.Kept(ctx, f, file); err != nil {
		return nil, fmt.Errorf("picture %s: %w", file.Name, err)
	}
	return f.Small(file, picture.ScreenName)
}

// canScreen reports whether Screen reads a file, by its name.
func canScreen(f record.File) bool {
	switch strings.ToLower(path.Ext(f.Name)) {
	case ".jpg", ".jpeg", ".png", ".heic", ".heif":
		return true
	}
	return false
}

// filePath is where a file of the build folder is handed out.
func filePath(f record.File) string { return "/file/" + f.SHA256 + "/" + url.PathEscape(f.Name) }
