package main

import "errors"

type sheetCmd struct{}

func (c *sheetCmd) Run(s streams) error { return errors.New("sheet: not written yet") }
