package people

// CheckHash reports whether passphrase is the one that a PHC string holds.
func CheckHash(phc, passphrase string) (bool, error) {
	h, err := parseHash(phc)
	if err != nil {
		return false, err
	}
	return h.is(passphrase), nil
}

// NewHash hashes a passphrase into a PHC string.
func NewHash(passphrase string) string { return newHash(passphrase).String() }

// ReadHash reads a PHC string and writes it again.
func ReadHash(phc string) (string, error) {
	h, err := parseHash(phc)
	return h.String(), err
}
