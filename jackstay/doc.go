// Package jackstay works out what jackstays, clip points and tethers on a deck
// do: how far a line lets a person go, what it puts on its anchors, what it can
// catch on, whether one can go from here to there clipped all the way. It is
// for finding gaps and for questions to the yard; it approves nothing.
//
// # Cases and answers
//
//   - Case -> Deck -> Result: the whole deck. LineOf works one line alone;
//     Result.Put lays its answer into the deck's, for a hand that drags a line.
//   - Span -> Hang -> Hold: one span with one hook, slack or pretensioned, the
//     hook jammed or sliding (exact; the kernel of everything else).
//   - Chain -> Spread -> Hung: a line through supports with friction, any
//     number of hooks, loaded together; with the two brackets beside it.
//   - Drop -> Caught, CaughtByEye -> Arrest: a person caught by tether and line.
//   - Way -> Walk -> Walked: a task, clipped all the way or with its gaps.
//   - []Given -> Rules -> []Answer: racing rules and standards, line by line.
//
// # Conventions
//
// SI throughout: m, N, kg, s, rad; stiffness EA in N (per unit of strain). The
// boat's axes: x forward, y to port, z up from the waterline. Loads are what
// the tether does to the line, anchor loads what the line does to the anchor,
// so the anchor loads of a line add up to the loads on it. What is
// not entered is taken from the sheet's defaults and listed under Assumed;
// where there is no default the answer reads not known.
//
// Equations, sources and their limits: docs/theory/jackstay.md.
package jackstay
