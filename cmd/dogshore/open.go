package main

import "errors"

type openCmd struct{}

func (c *openCmd) Run(s streams) error { return errors.New("open: not written yet") }
