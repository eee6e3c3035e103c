package main

import "dogshore/work"

type workCmd struct {
	Engine  string `arg:"" help:"The engine: programme."`
	Example bool   `help:"Print a small invented case that the engine takes." xor:"what"`
	Schema  bool   `help:"Print the JSON Schema of the engine's case and result." xor:"what"`
}

func (c *workCmd) Run(s streams) error {
	switch {
	case c.Example:
		return work.Example(c.Engine, s.out)
	case c.Schema:
		return work.Schema(c.Engine, s.out)
	}
	return work.Run(c.Engine, s.in, s.out)
}
