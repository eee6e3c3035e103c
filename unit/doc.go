// Package unit holds quantities and money, and reads and prints them as
// people write them.
//
// All code works in SI base units (m, kg, s, N, Pa, rad, K) as plain float64;
// working time is in days. Other units exist only here and in what a person
// reads. A Quantity keeps the words it was typed in beside its value, so that
// a working can show what somebody wrote.
package unit
