// Package rope holds what jackstays and preventers share: how line stretches
// and breaks, what takes strength away from it, friction where it bends; and,
// in files of their own, how it is held: bolts, eyes, laminate.
//
// SI throughout: m, N, strain without unit; stiffness EA in N per unit of
// strain, of the whole line, not of its section. Textile stiffness depends on
// load history and water: answers are run at half and double, and shown as a
// band. Every value of a table carries its source; each can be overridden by
// the maker's certificate, which goes before.
package rope
