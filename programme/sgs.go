package programme

func (m *model) orderStands() error { return nil }
