// Package people says who may come in from other computers: one passphrase, a
// code for each further phone, sessions that can be ended, and attempts that
// are slowed down.
//
// All of it lies in access.db beside the build, a database of its own: it is
// no fact of the boat, so it stands in no journal, no workbook, no letter and
// no view, and a build.db that is handed on carries no key to the door. The
// file is readable by its owner alone. It holds no secret in clear: of the
// passphrase an argon2id hash, of codes and sessions a SHA-256 of what chance
// made.
//
// It is SQLite, as the build is, because a command may set a new passphrase
// while the pages are served: the next request must know. Each change is one
// transaction, on disk when it returns.
package people
