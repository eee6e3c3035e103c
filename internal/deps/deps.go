// Package deps is temporary: it keeps the module's requirements in place.
package deps

import (
	_ "codeberg.org/go-pdf/fpdf"
	_ "github.com/alecthomas/kong"
	_ "github.com/chromedp/cdproto"
	_ "github.com/chromedp/chromedp"
	_ "github.com/google/go-cmp/cmp"
	_ "github.com/google/uuid"
	_ "github.com/rogpeppe/go-internal/testscript"
	_ "github.com/xuri/excelize/v2"
	_ "gonum.org/v1/gonum/floats"

	_ "modernc.org/sqlite"
	_ "pgregory.net/rapid"
)
