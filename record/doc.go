// Package record describes what a build's record can hold: the kinds of
// subjects, their fields, and the values that a field can take.
//
// Each kind is a Go struct whose tags are read once into a table (Kinds).
// Six short readers over that table give the workbook's sheets, JSON and its
// schema, the plain form, the SQL view, the check at the door and the page of
// documentation. The table carries no conditions, layout or computed columns:
// a rule over several fields is a Go function (rules.go).
//
// Definitions (parts, steps, points, people) are edited; observations
// (visits, sightings, answers, arrivals) are added, each a subject of its own,
// and never overwritten.
//
// Tags of a field:
//
//	says:"..."     what it means, for the person who fills it in
//	of:"part|step" for a Ref the kinds it may name; for a string its choices
//	in:"length"    for a Quantity, ThreePoint or Tolerance its dimension
//	is:"need,long,name"
//	               need: a subject without it is a doubt; long: text of
//	               several lines; name: a person finds the subject by it
package record
