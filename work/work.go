// Package work runs one engine on a case as JSON: the engine alone, without a
// record. Units stand in the names of the fields, days are ISO 8601
// (2027-04-12), moments have the hour behind (2027-04-12 08:00).
package work

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"sort"
	"strings"

	"dogshore/gybe"
	"dogshore/rope"
)

// MaxInput is the most that is read of a case, in bytes.
const MaxInput = 16 << 20

// engine is what is known of one engine here.
type engine struct {
	says    string
	example func() any
	inType  reflect.Type
	outType reflect.Type
	run     func(ctx context.Context, read func(any) error) (any, error)
}

var engines = map[string]engine{
	"anchor": {
		says:    "An eye bolted to a deck: its bolts, the chain of its parts with the weakest named, and what a cored deck must have under it. SI units.",
		example: func() any { return exampleAnchor() },
		inType:  reflect.TypeFor[rope.AnchorCase](),
		outType: reflect.TypeFor[rope.AnchorResult](),
		run:     func(_ context.Context, read func(any) error) (any, error) { return runAnchor(read) },
	},
	"gybe": {
		says:    "A boom's preventer with the sail caught aback: tension, load on every turn of its lead, compression and bending of the boom, as ranges against ratings. SI units, angles in rad.",
		example: func() any { return exampleGybe() },
		inType:  reflect.TypeFor[gybe.Case](),
		outType: reflect.TypeFor[gybe.Result](),
		run:     func(_ context.Context, read func(any) error) (any, error) { return runGybe(read) },
	},
	"sweep": {
		says:    "The zones that boom, mainsheet, traveller and preventers sweep, and who is inside them. SI units, angles in rad.",
		example: func() any { return exampleSweep() },
		inType:  reflect.TypeFor[gybe.SweepCase](),
		outType: reflect.TypeFor[gybe.SweepResult](),
		run:     func(_ context.Context, read func(any) error) (any, error) { return runSweep(read) },
	},
	"forecast": {
		says:    "What the visits teach of a yard, and from it the spread of every date, the launch, and by when each point must be settled.",
		example: func() any { return exampleForecast() },
		inType:  reflect.TypeFor[ForecastCase](),
		outType: reflect.TypeFor[ForecastResult](),
		run:     runForecast,
	},
	"jackstay": {
		says:    "Jackstays, clip points and tethers on a deck: loads, reach, who goes over the side and how, what a line can catch on, ways gone clipped, rules line by line.",
		example: func() any { return exampleJackstay() },
		inType:  reflect.TypeFor[JackstayCase](),
		outType: reflect.TypeFor[JackstayResult](),
		run:     func(_ context.Context, read func(any) error) (any, error) { return runJackstay(read) },
	},
	"programme": {
		says:    "Dates, floats and bounds of a network of steps, as of a data date.",
		example: func() any { return exampleProgramme() },
		inType:  reflect.TypeFor[ProgrammeCase](),
		outType: reflect.TypeFor[ProgrammeResult](),
		run:     func(_ context.Context, read func(any) error) (any, error) { return runProgramme(read) },
	},
}

// ErrEngine is the error for an engine that there is not.
var ErrEngine = errors.New("there is no such engine")

// Names lists the engines.
func Names() []string {
	out := make([]string, 0, len(engines))
	for name := range engines {
		out = append(out, name)
	}
	sort.Strings(out)
	return out
}

func find(name string) (engine, error) {
	e, ok := engines[name]
	if !ok {
		return e, fmt.Errorf("%q: %w: there is %s", name, ErrEngine, strings.Join(Names(), ", "))
	}
	return e, nil
}

// Run reads a case of the named engine from in and writes its result to out.
// Nothing is written when the case can't be read, the engine refuses it or ctx
// is done before it is.
func Run(ctx context.Context, name string, in io.Reader, out io.Writer) error {
	e, err := find(name)
	if err != nil {
		return err
	}
	result, err := e.run(ctx, func(v any) error { return readCase(in, v) })
	if err != nil {
		return err
	}
	return write(out, result)
}

// Example writes a case that Run takes: small, worked and invented.
func Example(name string, out io.Writer) error {
	e, err := find(name)
	if err != nil {
		return err
	}
	return write(out, e.example())
}

// Schema writes the JSON Schema of the named engine's case, with its result's
// under $defs.
func Schema(name string, out io.Writer) error {
	e, err := find(name)
	if err != nil {
		return err
	}
	return write(out, schemaOf(name, e))
}

func write(out io.Writer, v any) error {
	b, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		return fmt.Errorf("write the result: %w", err)
	}
	_, err = out.Write(append(b, '\n'))
	return err
}
