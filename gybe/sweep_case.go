package gybe

import (
	"dogshore/plane"
	"dogshore/rope"
)

// SweepCase asks which parts of the deck moving gear sweeps, and who is there.
type SweepCase struct {
	Boom       Boom        `json:"boom"`
	Head       float64     `json:"head_m,omitempty" says:"room that must be left above a head; 0.1 m if left out"`
	Sheet      *SheetRun   `json:"mainsheet,omitempty"`
	Preventers []Preventer `json:"preventers,omitempty"`
	Zones      []Zone      `json:"zones,omitempty" says:"others, as they were entered"`
	Stations   []Station   `json:"stations,omitempty"`
}

// SheetRun is where the mainsheet goes.
type SheetRun struct {
	At    float64 `json:"at_m" says:"where it meets the boom, from the mast"`
	From  Spot    `json:"from" says:"where it meets the deck, or one end of the traveller"`
	To    *Spot   `json:"to,omitempty" says:"the other end of the traveller"`
	Extra float64 `json:"extra_m,omitempty" says:"sheet let out beyond what the boom needs when it is right out"`
	Car   float64 `json:"car_m,omitempty" says:"half the width that the traveller's car and its blocks take up; 0.15 m if left out"`
}

// Station is where a person is, or clips on, or goes.
type Station struct {
	Name   string  `json:"name"`
	Sort   string  `json:"sort" says:"clip point, seat, helm, winch, hatch or way"`
	Run    []Spot  `json:"run" says:"one spot, or the corners of a way; z is what one stands or sits on"`
	Height float64 `json:"height_m" says:"from there to the top of the head"`
}

// Zone is what gear sweeps, seen from above, between two heights.
type Zone struct {
	Name     string       `json:"name"`
	Sort     string       `json:"sort" says:"boom, mainsheet, traveller, preventer, recoil or other"`
	Outlines plane.Region `json:"outlines" says:"its rings, holes running clockwise"`
	Low      float64      `json:"low_m"`
	High     float64      `json:"high_m"`
}

// Inside says that a station lies in a zone.
type Inside struct {
	Zone    string  `json:"zone"`
	Sort    string  `json:"zone_sort"`
	Station string  `json:"station"`
	At      Spot    `json:"at"`                 // the first spot of it that does
	Length  float64 `json:"length_m,omitempty"` // of a way, how much of it
	Room    float64 `json:"room_m,omitempty"`   // between its head and the gear above; less than 0: it is struck
}

// SweepResult is the zones and what lies inside them.
type SweepResult struct {
	Zones    []Zone         `json:"zones"`
	Inside   []Inside       `json:"inside,omitempty"`
	Assumed  []string       `json:"assumed,omitempty"`
	Cautions []rope.Caution `json:"cautions"`
}
