package main

import "errors"

type demoCmd struct{}

func (c *demoCmd) Run(s streams) error { return errors.New("demo: not written yet") }
