package main

import "errors"

type newCmd struct{}

func (c *newCmd) Run(s streams) error { return errors.New("new: not written yet") }
