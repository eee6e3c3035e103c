package main

import "errors"

type workbookCmd struct{}

func (c *workbookCmd) Run(s streams) error { return errors.New("workbook: not written yet") }
