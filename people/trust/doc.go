// Package trust makes the pages' address a secure one where no certificate can
// be bought: for a computer in a home or a yard's network. A root certificate
// is made once and handed to each phone; under it the program makes a
// certificate for the addresses it listens at, whenever one is needed.
//
// The root vouches for addresses of local networks and local names and for
// nothing else (RFC 5280, name constraints), so that a phone which trusts it
// is not open to whoever gets hold of its key: that key makes no certificate
// for a name of the wide network.
//
// Certificates for the addresses are made in memory, are good for ninety days
// and are renewed while the program runs; only the root is kept. It lies in
// the user's own configuration folder and not with the build: one is enough
// for all builds, and a build folder that is handed on carries no key.
package trust
