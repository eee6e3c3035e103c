package main

import "errors"

type reviewCmd struct{}

func (c *reviewCmd) Run(s streams) error { return errors.New("review: not written yet") }
