package review

import (
	"dogshore/desk/deck"
	"dogshore/figure"
	"dogshore/jackstay"
	"dogshore/record"
)

// jsonDeck is what the desk of the deck gear says.
type jsonDeck struct {
	Arrangements []jsonArrangement `json:"arrangements"`
	Compared     []jsonCompared    `json:"compared"`
	Cautions     []string          `json:"cautions"`
	Missing      []string          `json:"not_on_record"`
}

type jsonArrangement struct {
	Point    *jsonName      `json:"open_point,omitempty"`
	Option   *jsonName      `json:"option,omitempty"`
	Name     string         `json:"name"`
	Sum      string         `json:"sum"`
	Cost     jsonCost       `json:"cost"`
	Lines    []jsonLineOf   `json:"lines"`
	Tasks    []jsonTask     `json:"tasks"`
	Anchors  []jsonAnchor   `json:"anchors"`
	Leads    []jsonLead     `json:"preventers"`
	Findings []jsonFinding  `json:"findings"`
	Facts    []jsonSaid     `json:"known"`
	Remarks  []jsonSaid     `json:"remarks"`
	Apart    []jsonTransfer `json:"transfers"`
	Islands  [][]string     `json:"islands"`
	Bare     float64        `json:"bare_m2,omitempty"`
	Deck     float64        `json:"deck_m2,omitempty"`
	Rules    []jsonRule     `json:"rules"`
	Other    []jsonFigures  `json:"other_figures"`
	Cautions []string       `json:"cautions"`
	Assumed  []jsonAssumed  `json:"assumed"`
}

type jsonCost struct {
	Price  string  `json:"price,omitempty"`
	Weight string  `json:"weight,omitempty"`
	Days   string  `json:"days,omitempty"`
	By     *jsonBy `json:"by,omitempty"`
}

type jsonLineOf struct {
	jsonName
	Verdict jackstay.Verdict `json:"verdict"`
	Legs    []jsonLeg        `json:"legs"`
	Figures []figure.Figure  `json:"figures"`
}

type jsonLeg struct {
	Tether  record.Ref      `json:"tether"`
	Leg     float64         `json:"leg_m"`
	Hook    int             `json:"hook"`
	Hooks   int             `json:"hooks"`
	Far     float64         `json:"farthest_m"`
	Error   float64         `json:"error_m"`
	Class   jackstay.Class  `json:"class"`
	Edge    record.Ref      `json:"edge,omitempty"`
	Says    string          `json:"says"`
	Figures []figure.Figure `json:"figures"`
}

type jsonTask struct {
	jsonName
	Clipped bool            `json:"clipped_all_the_way"`
	Figures []figure.Figure `json:"figures"`
}

type jsonAnchor struct {
	jsonName
	Verdict string          `json:"verdict"`
	Missing []string        `json:"missing"`
	Demand  string          `json:"asks_for,omitempty"`
	Before  record.Ref      `json:"before,omitempty"`
	Figures []figure.Figure `json:"figures"`
}

type jsonLead struct {
	jsonName
	Side    string          `json:"side"`
	Verdict string          `json:"verdict"`
	Says    []string        `json:"says"`
	Missing []string        `json:"missing"`
	Figures []figure.Figure `json:"figures"`
}

type jsonFinding struct {
	Sort    deck.Sort       `json:"sort"`
	Of      *jsonName       `json:"of,omitempty"`
	Also    []record.Ref    `json:"also,omitempty"`
	Says    string          `json:"says"`
	Caution string          `json:"caution,omitempty"`
	Figures []figure.Figure `json:"figures"`
}

type jsonSaid struct {
	What    string          `json:"what"`
	Of      record.Ref      `json:"of,omitempty"`
	Also    []record.Ref    `json:"also,omitempty"`
	Says    string          `json:"says"`
	Figures []figure.Figure `json:"figures"`
}

type jsonTransfer struct {
	From   string  `json:"from"`
	To     string  `json:"to"`
	Apart  float64 `json:"apart_m"`
	Bridge float64 `json:"bridge_m"`
	Can    bool    `json:"can"`
}

type jsonRule struct {
	Where   string   `json:"where"`
	Edition string   `json:"edition"`
	Says    string   `json:"says"`
	Kept    string   `json:"kept"`
	Value   *float64 `json:"value,omitempty"`
	Unit    string   `json:"unit,omitempty"`
	Needs   string   `json:"needs,omitempty"`
	Source  string   `json:"source"`
}

type jsonFigures struct {
	Of      jsonName        `json:"of"`
	Side    string          `json:"side,omitempty"`
	Figures []figure.Figure `json:"figures"`
}

type jsonAssumed struct {
	Of     string  `json:"of"`
	What   string  `json:"what"`
	Value  float64 `json:"value"`
	Unit   string  `json:"unit,omitempty"`
	Source string  `json:"source"`
}

type jsonCompared struct {
	Point  record.Ref `json:"open_point"`
	First  jsonName   `json:"first"`
	Second jsonName   `json:"second"`
	Rows   []jsonRow  `json:"rows"`
}

type jsonRow struct {
	What    string `json:"what"`
	First   string `json:"first"`
	Second  string `json:"second"`
	Differs bool   `json:"differs"`
	Told    string `json:"told"`
}

// jsonDeck is the deck's part of the document; nil while there is nothing of
// it on record.
func (v Review) jsonDeck() *jsonDeck {
	if len(v.Deck.Arrangements) == 0 {
		return nil
	}
	out := &jsonDeck{Arrangements: []jsonArrangement{}, Compared: []jsonCompared{}, Cautions: list(v.Deck.Cautions), Missing: list(v.Deck.Missing)}
	for i := range v.Deck.Arrangements {
		out.Arrangements = append(out.Arrangements, v.jsonArrangement(&v.Deck.Arrangements[i]))
	}
	for _, c := range v.Deck.Compared {
		x := jsonCompared{Point: c.Point, First: jsonName{c.A, c.AName}, Second: jsonName{c.B, c.BName}, Rows: []jsonRow{}}
		for _, r := range c.Rows {
			x.Rows = append(x.Rows, jsonRow{r.What, r.A, r.B, r.Differs(), string(r.Told)})
		}
		out.Compared = append(out.Compared, x)
	}
	return out
}

func (v Review) jsonArrangement(a *deck.Arrangement) jsonArrangement {
	out := jsonArrangement{
		Point: v.called(a.Point), Option: v.called(a.Option), Name: a.Name, Sum: a.Sum(), Cautions: list(a.Cautions),
		Cost:  jsonCost{a.Cost.Price.Text(), a.Cost.Weighs().Text(), a.Cost.Days.Text(), v.jsonBy(a.Cost.By)},
		Lines: []jsonLineOf{}, Tasks: []jsonTask{}, Anchors: []jsonAnchor{}, Leads: []jsonLead{}, Findings: []jsonFinding{},
		Facts: v.jsonSaid(a.Facts), Remarks: v.jsonSaid(a.Remarks), Apart: []jsonTransfer{}, Islands: list(a.Result.Islands),
		Bare: a.Result.Bare, Deck: a.Result.Deck, Rules: []jsonRule{}, Other: []jsonFigures{}, Assumed: []jsonAssumed{},
	}
	for _, f := range a.Findings {
		out.Findings = append(out.Findings, jsonFinding{f.Sort, v.called(f.Of), f.Also, f.Says, f.Caution, list(f.Figures)})
	}
	for _, t := range a.Result.Transfers {
		out.Apart = append(out.Apart, jsonTransfer(t))
	}
	for _, r := range a.Rules {
		out.Rules = append(out.Rules, jsonRule{deck.Where(r), r.Edition, r.Says, string(r.Kept), r.Value, r.Unit, string(r.Asks), r.Source.String()})
	}
	for _, x := range a.Result.Assumed {
		out.Assumed = append(out.Assumed, jsonAssumed{x.Of, x.What, x.Value, x.Unit, x.Source.String()})
	}
	v.jsonGear(a, &out)
	return out
}

// jsonGear fills in lines, tasks, anchors and preventers with their figures,
// and the figures of what is none of these: eyes, tethers, booms.
func (v Review) jsonGear(a *deck.Arrangement, out *jsonArrangement) {
	done := map[record.Ref]bool{}
	for _, l := range a.Result.Lines {
		ref := record.Ref(l.ID)
		x := jsonLineOf{jsonName: *v.called(ref), Verdict: l.Strength.Verdict, Legs: []jsonLeg{}, Figures: list(a.Of(ref))}
		for _, g := range a.Legs {
			if g.Line == ref {
				x.Legs = append(x.Legs, jsonLeg{g.Tether, g.Leg, g.Hook, g.Hooks, g.Far, g.Error, g.Class, g.Edge, g.Says, list(g.Figures)})
			}
		}
		out.Lines, done[ref] = append(out.Lines, x), true
	}
	for _, t := range a.Tasks {
		out.Tasks, done[t.Self] = append(out.Tasks, jsonTask{*v.called(t.Self), t.Walked.Clipped, list(a.Of(t.Self))}), true
	}
	for _, x := range a.Anchors {
		y := jsonAnchor{*v.called(x.Self), string(x.Result.Verdict), list(x.Result.Missing), "", x.Before, list(x.Figures)}
		if q := x.Result.Demand; q.Replace != "" || q.Thick > 0 {
			y.Demand = deck.Demanded(x)
		}
		out.Anchors = append(out.Anchors, y)
	}
	for _, g := range a.Gybe {
		for _, l := range g.Result.Leads {
			ref := record.Ref(l.Preventer)
			x := jsonLead{*v.called(ref), string(l.Side), string(l.Verdict), list(l.Says), list(l.Missing), []figure.Figure{}}
			for _, f := range a.Figures {
				if f.Of == ref && f.Side == string(l.Side) {
					x.Figures = append(x.Figures, f.Figures...)
				}
			}
			out.Leads, done[ref] = append(out.Leads, x), true
		}
	}
	for _, f := range a.Figures {
		if !done[f.Of] {
			out.Other = append(out.Other, jsonFigures{*v.called(f.Of), f.Side, list(f.Figures)})
		}
	}
}

func (v Review) jsonSaid(all []deck.Said) []jsonSaid {
	out := []jsonSaid{}
	for _, s := range all {
		out = append(out, jsonSaid{s.What, s.Of, s.Also, s.Says, list(s.Figures)})
	}
	return out
}
