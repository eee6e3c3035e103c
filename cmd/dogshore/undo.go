package main

import "errors"

type undoCmd struct{}

func (c *undoCmd) Run(s streams) error { return errors.New("undo: not written yet") }
