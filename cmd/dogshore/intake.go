package main

import "errors"

type intakeCmd struct{}

func (c *intakeCmd) Run(s streams) error { return errors.New("intake: not written yet") }
