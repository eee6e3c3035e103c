// Package workbook reads spreadsheets, as rows of cells, and writes the build
// as one.
//
// Reading is done for strangers' files: sheet by sheet and row by row, with
// bounds on what is unpacked and kept, and with what gets lost in most
// readers kept beside each cell: whether it was a formula, whether a number
// is shown as a date, whether its row is hidden. What was not read because of
// a bound is said in the notes.
//
// Written workbooks have a sheet for each kind, a first sheet that says how to
// use them, and a hidden sheet with each value as it was exported and the
// entry it came from, so that what comes back can be compared three ways.
package workbook
