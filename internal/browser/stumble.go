package browser

import (
	_ "embed"
	"fmt"

	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

//go:embed axe/axe.min.js
var axe string

//go:embed stumble.js
var stumble string

func awaited(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }

// Stumbles lists what a reader would stumble over on the page as it stands: a
// page wider than its window, controls too small for a thumb (on a phone),
// text that stands out too little (under 7:1).
func (b *Tab) Stumbles() []string {
	b.t.Helper()
	var out []string
	b.Do(chromedp.Evaluate(stumble, nil))
	b.Eval(fmt.Sprintf("dogshoreStumbles(%v)", b.size.Touch), &out)
	return out
}

// Barriers lists what the accessibility checker axe-core finds on the page.
// It takes its time: once for a page is enough.
func (b *Tab) Barriers() []string {
	b.t.Helper()
	var out []string
	b.Do(chromedp.Evaluate(axe, nil))
	b.Eval(`axe.run(document, { resultTypes: ["violations"] }).then((r) =>
		r.violations.flatMap((v) => v.nodes.slice(0, 3).map((n) => v.id + ": " + n.html.slice(0, 160) + " " + (n.any[0]?.message ?? n.all[0]?.message ?? n.none[0]?.message ?? ""))))`, &out)
	return out
}
