package main

import "errors"

type workCmd struct{}

func (c *workCmd) Run(s streams) error { return errors.New("work: not written yet") }
