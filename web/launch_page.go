package web

import (
	"fmt"
	"html/template"
	"net/http"
	"time"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/drawing"
	"dogshore/record"
	"dogshore/review"
)

// launchPage shows the launch as it was to be expected at each visit, what
// was said of it by then, and what moved it since the last.
type launchPage struct {
	Sheet
	Says     string
	Caution  string
	Drawing  template.HTML
	Visits   []Row // latest first
	More     int   // earlier visits that are not shown
	Later    int   // there was no time for
	Moved    *movedLaunch
	Promises string
	Needs    string // what chances would need
}

// movedLaunch says what moved the launch since a visit.
type movedLaunch struct {
	Since Named
	Later bool // it is still being worked out
	*review.Moved
	Parts []Row
	Steps []Row
}

// visitsShown is how many visits are shown at first.
const visitsShown = 8

func (s *Site) launchPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Launch")
	if err != nil {
		return err
	}
	page := &launchPage{Sheet: v.Sheet, Caution: v.rev.Plan.Launch.Caution, Needs: v.rev.Plan.Forecast.Needs}
	if says := v.launchSays(); says != nil {
		page.Says = says[0]
	}
	days, refs := v.launchDays()
	if n := len(days) - visitsShown; n > 0 && r.URL.Query().Get("all") == "" {
		page.More, days = n, days[n:]
	}
	until := time.Now().Add(longestWait)
	all, left, err := s.launchesAt(r.Context(), v, days, until)
	if err != nil {
		return err
	}
	page.Later = left
	if len(all) > 0 && anyDate(all) {
		page.Drawing = sized(drawing.Launch(all, v.rev.Plan.Launch.Contract.Day, v.Day).SVG(), drawing.AxisWidth)
	}
	for i := len(all) - 1; i >= 0; i-- {
		page.Visits = append(page.Visits, v.launchRow(all[i], refs[all[i].Visit]))
	}
	page.Moved = s.movedLaunch(r, v, until, true)
	page.Promises = v.launchPromises()
	return s.render(w, http.StatusOK, "launch", page)
}

// launchDays are the days of visits that looked, and the day of the sheet,
// oldest first.
func (v *view) launchDays() ([]calendar.Day, map[calendar.Day]record.Ref) {
	var days []calendar.Day
	refs := map[calendar.Day]record.Ref{}
	for i := len(v.Visits) - 1; i >= 0; i-- {
		x := v.Visits[i]
		if x.By == "call" || x.Day > v.Day || refs[x.Day] != "" {
			continue
		}
		refs[x.Day] = x.Ref
		days = append(days, x.Day)
	}
	if refs[v.Day] == "" && len(v.rev.Plan.Steps) > 0 {
		days = append(days, v.Day)
	}
	return days, refs
}

func anyDate(all []drawing.LaunchAt) bool {
	for _, l := range all {
		if l.Dated || l.Said.Known() || l.Reckoned.Known() || l.Afloat.Known() {
			return true
		}
	}
	return false
}

func (v *view) launchRow(l drawing.LaunchAt, at record.Ref) Row {
	row := Row{Link: v.Ref(at)}
	if at == "" {
		row.Link = Named{Href: v.Link("/"), Name: "as of " + l.Visit.Said()}
	}
	row.line("", desk.Capital(l.Says(l.Visit)))
	if l.Said.Known() {
		row.line("said by then", desk.Coarse(l.Said, l.Visit))
	}
	return row
}

// movedLaunch asks what moved the launch since the last visit before the day
// looked at, with why each group is one if that is asked for; nil where it can't
// be said.
func (s *Site) movedLaunch(r *http.Request, v *view, until time.Time, why bool) *movedLaunch {
	moved, ready := s.movedSince(r.Context(), v, until)
	if ready && moved == nil {
		return nil
	}
	out := &movedLaunch{Since: v.Ref(v.rev.Since.Visit.Self), Later: !ready, Moved: moved}
	if moved == nil {
		return out
	}
	for _, p := range moved.Parts {
		row := Row{Link: Named{Name: desk.Capital(p.Name)}, State: p.Says}
		if why {
			row.line("", p.Why)
		}
		out.Parts = append(out.Parts, row)
	}
	for _, x := range moved.Steps {
		out.Steps = append(out.Steps, Row{Link: v.Ref(x.About), State: x.Says})
	}
	return out
}

// launchPromises counts what became of dates that were said.
func (v *view) launchPromises() string {
	n := map[plan.PromiseState]int{}
	for _, p := range v.rev.Plan.Promises {
		n[p.State]++
	}
	if len(v.rev.Plan.Promises) == 0 {
		return ""
	}
	return fmt.Sprintf("Of %s: %d kept, %d not kept, %d moved before they were due, %d where it can't be told, %d that nobody has looked at, %d still to come.",
		count(len(v.rev.Plan.Promises), "date that was said", "dates that were said"), n[plan.Kept], n[plan.Broken], n[plan.Moved], n[plan.EitherWay], n[plan.Unseen], n[plan.Pending])
}
