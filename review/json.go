package review

import (
	"encoding/json"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/visit"
	"dogshore/figure"
	"dogshore/journal"
	"dogshore/record"
)

// Format names the JSON form and its version; docs/review-json.md describes
// it. Fields are added to a version, never renamed or taken away.
const Format = "dogshore/review/1"

// JSON writes a review as one JSON document.
func JSON(v Review) ([]byte, error) {
	return json.MarshalIndent(v.document(), "", "  ")
}

type document struct {
	Format string          `json:"format"`
	Build  jsonBuild       `json:"build"`
	Date   calendar.Day    `json:"date"`
	Known  int64           `json:"known_by_arrival,omitempty"`
	Level  desk.Level      `json:"level"`
	Facts  []Fact          `json:"facts"`
	Acts   []jsonAct       `json:"acts"`
	More   int             `json:"more"`
	Later  int             `json:"later"`
	Asks   []jsonAsk       `json:"asks"`
	Ruled  []jsonRuled     `json:"ruled"`
	Next   jsonNext        `json:"next_visit"`
	Walk   []jsonStop      `json:"walk"`
	Since  jsonSince       `json:"since_last_visit"`
	Letter []jsonLine      `json:"letter"`
	Begin  []string        `json:"enter_first"`
	Doubts []journal.Doubt `json:"doubts"`
	Stands []jsonStand     `json:"order_at_stands"`
	Deck   *jsonDeck       `json:"deck,omitempty"`
}

type jsonBuild struct {
	Name   string `json:"name"`
	Number string `json:"hull_number,omitempty"`
	Notice string `json:"notice,omitempty"`
}

// jsonName is a subject and how a person calls it.
type jsonName struct {
	Ref  record.Ref `json:"ref"`
	Name string     `json:"name"`
}

type jsonAct struct {
	N       int             `json:"n,omitempty"` // on the first page
	ID      string          `json:"id"`
	Do      desk.Do         `json:"do"`
	Where   desk.Where      `json:"where"`
	Say     string          `json:"say"`
	Subject jsonName        `json:"subject"`
	On      *jsonName       `json:"on,omitempty"`
	Before  *jsonBefore     `json:"before,omitempty"`
	By      *jsonBy         `json:"by,omitempty"`
	Gravity desk.Gravity    `json:"gravity,omitempty"`
	How     []string        `json:"how,omitempty"`
	Why     []figure.Figure `json:"why"`
	Missed  string          `json:"missed,omitempty"`
	Caution string          `json:"caution,omitempty"`
}

type jsonBefore struct {
	jsonName
	Ahead int    `json:"steps_ahead"`
	Begun bool   `json:"begun"`
	Words string `json:"words"`
}

type jsonBy struct {
	Day     calendar.Day  `json:"day"`
	Basis   desk.Basis    `json:"basis"`
	Words   string        `json:"words"`
	Working figure.Figure `json:"working,omitzero"`
}

type jsonAsk struct {
	Act    string       `json:"act"`
	Visits []record.Ref `json:"visits"`
}

type jsonRuled struct {
	Act   jsonAct      `json:"act"`
	Says  string       `json:"says"`
	By    jsonName     `json:"by"`
	Why   string       `json:"why,omitempty"`
	Day   calendar.Day `json:"day"`
	Until calendar.Day `json:"until,omitzero"`
}

type jsonNext struct {
	By       *jsonBy      `json:"by,omitempty"`
	Fixed    calendar.Day `json:"fixed,omitzero"`
	Why      string       `json:"why"`
	Who      string       `json:"who"`
	Pictures []string     `json:"pictures"`
}

type jsonStop struct {
	Part   *jsonName    `json:"part,omitempty"`
	Lies   *jsonName    `json:"lies,omitempty"`
	Acts   []string     `json:"acts"`
	Likely []jsonLikely `json:"likely"`
}

type jsonLikely struct {
	Step  record.Ref `json:"step"`
	State string     `json:"state"`
	Tap   string     `json:"tap"`
}

type jsonSince struct {
	Visit    *jsonVisit       `json:"visit,omitempty"`
	Happened []jsonDifference `json:"happened"`
	Learned  []jsonDifference `json:"learned"`
	Launch   *jsonMoved       `json:"launch,omitempty"`
}

type jsonVisit struct {
	Ref record.Ref   `json:"ref"`
	Day calendar.Day `json:"day"`
	By  string       `json:"by,omitempty"`
}

type jsonDifference struct {
	About record.Ref   `json:"about,omitempty"`
	Says  string       `json:"says"`
	Day   calendar.Day `json:"day,omitzero"`
	Entry string       `json:"entry,omitempty"`
}

type jsonLine struct {
	Number int          `json:"number"`
	Text   string       `json:"text"`
	About  record.Ref   `json:"about,omitempty"`
	By     calendar.Day `json:"answer_by,omitzero"`
	Again  bool         `json:"again,omitempty"` // sent before, and overdue
}

func (v Review) document() document {
	d := document{
		Format: Format, Date: v.Day, Level: v.Level, Facts: list(v.Facts), More: v.First.More, Later: v.First.Later,
		Build: jsonBuild{v.Build.Name, v.Build.HullNumber, v.Build.Notice},
		Acts:  []jsonAct{}, Asks: []jsonAsk{}, Ruled: []jsonRuled{}, Walk: []jsonStop{}, Letter: []jsonLine{},
		Begin: list(v.Begin), Doubts: list(v.Doubts), Next: v.jsonNext(v.Visit.Next), Since: v.jsonSince(), Stands: v.jsonStands(), Deck: v.jsonDeck(),
	}
	if v.Known != journal.Now {
		d.Known = v.Known
	}
	for i, a := range v.First.All() {
		x := v.jsonAct(a)
		x.N = i + 1
		d.Acts = append(d.Acts, x)
	}
	for _, a := range v.Rest() {
		d.Acts = append(d.Acts, v.jsonAct(a))
	}
	for _, a := range v.Asks {
		d.Asks = append(d.Asks, jsonAsk{a.Act.ID, list(a.Visits)})
	}
	for _, x := range v.Ruled {
		d.Ruled = append(d.Ruled, jsonRuled{
			Act: v.jsonAct(x.Act), Says: x.Ruling.Says, By: *v.called(x.Ruling.By),
			Why: x.Ruling.Why, Day: x.Ruling.Day, Until: x.Ruling.Until,
		})
	}
	for _, s := range v.Visit.Walk {
		d.Walk = append(d.Walk, v.jsonStop(s))
	}
	for _, l := range v.Visit.Letter {
		d.Letter = append(d.Letter, jsonLine{l.Number, l.Text, l.About, l.By, l.Line != ""})
	}
	return d
}

// list makes an empty list of nothing, so that readers always find one.
func list[T any](x []T) []T {
	if x == nil {
		return []T{}
	}
	return x
}

// called gives a subject its name; nil for nothing.
func (v Review) called(ref record.Ref) *jsonName {
	if ref == "" {
		return nil
	}
	name := v.Names[ref]
	if name == "" {
		name = ref.Key()
	}
	return &jsonName{ref, name}
}

func (v Review) jsonAct(a desk.Act) jsonAct {
	x := jsonAct{
		ID: a.ID, Do: a.Do, Where: a.Where, Say: a.Say, On: v.called(a.On), By: v.jsonBy(a.By),
		Gravity: a.Gravity, How: a.How, Why: list(a.Why), Missed: a.Missed, Caution: a.Caution,
	}
	if s := v.called(a.Subject); s != nil {
		x.Subject = *s
	}
	if b := v.called(a.Before); b != nil {
		x.Before = &jsonBefore{*b, a.Ahead, a.Gone, a.Event(b.Name)}
	}
	return x
}

func (v Review) jsonBy(w desk.When) *jsonBy {
	if !w.Known() {
		return nil
	}
	return &jsonBy{w.Day, w.Basis, w.Line(v.Day), w.Work}
}

func (v Review) jsonNext(c visit.Coming) jsonNext {
	return jsonNext{By: v.jsonBy(c.Day), Fixed: c.Fixed, Why: c.Why, Who: c.Who, Pictures: list(c.Pictures)}
}

func (v Review) jsonStop(s visit.Stop) jsonStop {
	x := jsonStop{Part: v.called(s.Part), Lies: v.called(s.Lies), Acts: []string{}, Likely: []jsonLikely{}}
	for _, a := range s.Acts {
		x.Acts = append(x.Acts, a.ID)
	}
	for _, l := range s.Steps {
		x.Likely = append(x.Likely, jsonLikely{l.Step, l.State, l.Tap})
	}
	return x
}

func (v Review) jsonSince() jsonSince {
	s := jsonSince{Happened: []jsonDifference{}, Learned: []jsonDifference{}}
	if x := v.Since.Visit; x.Self != "" {
		s.Visit = &jsonVisit{x.Self, x.Day, x.By}
	}
	for _, d := range v.Since.Happened {
		s.Happened = append(s.Happened, jsonDifference(d))
	}
	for _, d := range v.Since.Learned {
		s.Learned = append(s.Learned, jsonDifference(d))
	}
	s.Launch = v.jsonMoved()
	return s
}

// Line is where and when an act is to be done, in one line: before what, by
// when, and on whose word. A step that the act's own sentence names is not
// named again. Empty if nothing is known.
func (v Review) Line(a desk.Act) string {
	name := v.Names[a.Before]
	event := a.Event(name)
	if a.Before != "" && strings.Contains(a.Say, name) {
		event = a.Near("that step ")
	}
	return joined(event, a.By.Line(v.Day))
}
