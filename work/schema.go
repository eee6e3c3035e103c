package work

import (
	"maps"
	"reflect"
	"strings"

	"dogshore/calendar"
	"dogshore/gybe"
	"dogshore/jackstay"
	"dogshore/programme"
	"dogshore/rope"
)

// schema is a JSON Schema, draft 2020-12, as far as Go types need it.
type schema struct {
	Schema      string             `json:"$schema,omitempty"`
	Title       string             `json:"title,omitempty"`
	Description string             `json:"description,omitempty"`
	Ref         string             `json:"$ref,omitempty"`
	Type        string             `json:"type,omitempty"`
	Format      string             `json:"format,omitempty"`
	Pattern     string             `json:"pattern,omitempty"`
	Enum        []string           `json:"enum,omitempty"`
	Items       *schema            `json:"items,omitempty"`
	Properties  map[string]*schema `json:"properties,omitempty"`
	Required    []string           `json:"required,omitempty"`
	Additional  *bool              `json:"additionalProperties,omitempty"`
	Defs        map[string]*schema `json:"$defs,omitempty"`
}

// texts are the types that JSON carries as text.
var texts = map[reflect.Type]schema{
	reflect.TypeFor[calendar.Day]():    {Type: "string", Format: "date"},
	reflect.TypeFor[calendar.Moment](): {Type: "string", Pattern: "^[0-9]{4}-[0-9]{2}-[0-9]{2} [0-9]{2}:[0-9]{2}(:[0-9]{2})?$"},
	reflect.TypeFor[programme.State](): {
		Type: "string", Enum: []string{string(programme.NotStarted), string(programme.UnderWay), string(programme.Done)},
	},
	reflect.TypeFor[jackstay.SupportKind](): words(jackstay.FixedSupport, jackstay.GuideSupport),
	reflect.TypeFor[jackstay.Posture]():     words(jackstay.Standing, jackstay.Kneeling, jackstay.Lying),
	reflect.TypeFor[jackstay.How]():         words(jackstay.Jammed, jackstay.Sliding, jackstay.HeldBySupport),
	reflect.TypeFor[jackstay.Verdict]():     words(jackstay.Meets, jackstay.MeetsNot, jackstay.Between, jackstay.NotKnown),
	reflect.TypeFor[jackstay.Told]():        words(jackstay.NoDifference, jackstay.First, jackstay.Second),
	reflect.TypeFor[jackstay.Kept]():        words(jackstay.Met, jackstay.NotMet, jackstay.KeptUnknown, jackstay.NotHer, jackstay.KeptTwice),
	reflect.TypeFor[jackstay.Class](): words(jackstay.Aboard, jackstay.Outboard, jackstay.Dragging, jackstay.Inboard,
		jackstay.ClassAOrB, jackstay.ClassBOrC, jackstay.ClassAOrC),
	reflect.TypeFor[rope.Verdict](): {Type: "string", Enum: []string{string(rope.Meets), string(rope.MeetsNot), string(rope.NotKnown)}},
	reflect.TypeFor[gybe.Side]():    {Type: "string", Enum: []string{string(gybe.Port), string(gybe.Starboard), string(gybe.Both)}},
	reflect.TypeFor[gybe.Outcome](): {Type: "string", Enum: []string{string(gybe.Holds), string(gybe.NoBalance), string(gybe.Through)}},
	reflect.TypeFor[programme.LinkType](): {
		Type: "string", Enum: []string{string(programme.FS), string(programme.SS), string(programme.FF), string(programme.SF)},
	},
}

// words is a text that is one of some words.
func words[T ~string](of ...T) schema {
	s := schema{Type: "string"}
	for _, w := range of {
		s.Enum = append(s.Enum, string(w))
	}
	return s
}

// schemaOf reads the schema of an engine's case and result off their types.
func schemaOf(name string, e engine) *schema {
	defs := make(map[string]*schema)
	root := *object(e.inType, defs)
	root.Schema = "https://json-schema.org/draft/2020-12/schema"
	root.Title = name
	root.Description = e.says + " $defs/result is what comes back."
	defs["result"] = object(e.outType, defs)
	root.Defs = defs
	return &root
}

// object describes a struct: a field without omitempty is required.
func object(t reflect.Type, defs map[string]*schema) *schema {
	no := false
	s := &schema{Type: "object", Properties: make(map[string]*schema), Additional: &no}
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Anonymous {
			inner := object(f.Type, defs)
			maps.Copy(s.Properties, inner.Properties)
			s.Required = append(s.Required, inner.Required...)
			continue
		}
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		if name == "-" || !f.IsExported() {
			continue
		}
		p := *describe(f.Type, defs)
		p.Description = f.Tag.Get("says")
		s.Properties[name] = &p
		if !strings.Contains(options, "omit") {
			s.Required = append(s.Required, name)
		}
	}
	return s
}

func describe(t reflect.Type, defs map[string]*schema) *schema {
	if s, ok := texts[t]; ok {
		return &s
	}
	switch t.Kind() {
	case reflect.Pointer:
		return describe(t.Elem(), defs)
	case reflect.Slice:
		return &schema{Type: "array", Items: describe(t.Elem(), defs)}
	case reflect.Bool:
		return &schema{Type: "boolean"}
	case reflect.Float64:
		return &schema{Type: "number"}
	case reflect.Int, reflect.Int32, reflect.Int64, reflect.Uint64:
		return &schema{Type: "integer"}
	case reflect.Struct:
		name := strings.ToLower(t.Name()[:1]) + t.Name()[1:]
		if _, ok := defs[name]; !ok {
			defs[name] = nil // a type within itself meets its own name
			defs[name] = object(t, defs)
		}
		return &schema{Ref: "#/$defs/" + name}
	}
	return &schema{Type: "string"}
}
