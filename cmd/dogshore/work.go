package main

import (
	"context"

	"dogshore/work"
)

type workCmd struct {
	Engine  string `arg:"" help:"The engine: programme (dates without chance), forecast, jackstay (lines and clip points on a deck), anchor (bolts and what is under them), gybe (preventers) or sweep (what boom and sheet sweep)."`
	Example bool   `help:"Print a small invented case that the engine takes." xor:"what"`
	Schema  bool   `help:"Print the JSON Schema of the engine's case and result." xor:"what"`
}

func (c *workCmd) Run(ctx context.Context, s streams) error {
	switch {
	case c.Example:
		return work.Example(c.Engine, s.out)
	case c.Schema:
		return work.Schema(c.Engine, s.out)
	}
	return work.Run(ctx, c.Engine, s.in, s.out)
}
