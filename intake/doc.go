// Package intake reads what people have (workbooks, CSV files, messages) into
// entries of the record.
//
// Read says what it read, what it must ask and what it refuses, each by file,
// sheet and cell; it writes nothing. What is certain is read, what is not is
// asked about, and an answer given for a cell settles it on the next reading.
// Accept writes what was read, as one batch that Undo can strike.
//
// A workbook that was written from the record carries the values as exported,
// and is compared three ways: what a cell had, has now, and what the record
// says by now. A cell left as it was is nothing; a missing row or a cell made
// blank is a question.
//
// The same file read twice counts once: an entry's id is a hash of what it
// says, whatever file it came in.
package intake
