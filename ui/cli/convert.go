package cli

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"evenpull/spec/quantity"
)

func (a *app) convertCommand() *cobra.Command {
	var to string
	var asJSON bool
	var t tools
	cmd := &cobra.Command{
		Use:   "convert VALUE",
		Short: "A torque, angle, length, force, time, temperature, pressure or mass in its other units",
		Long: `A torque, angle, length, force, time, temperature, pressure or mass in its other units: one
figure, or what a sheet allows, such as "37 to 43 N·m", "27 ± 2 N·m", "at least 122 N·m".`,
		Example: `  evenpull convert 22 Nm
  evenpull convert 37-43 Nm
  evenpull convert "18.4 ft-lb" --to N·m
  evenpull convert 25 Nm --wrench "small click" --adapter "crowfoot 12"`,
		Args: atLeast(1, `a value with its unit, such as "22 N·m"`),
		RunE: func(cmd *cobra.Command, args []string) error {
			q, err := quantity.ParseAnySpan(strings.Join(args, " "))
			if err != nil {
				return problem(err)
			}
			if len(t.wrench) > 0 || t.adapter != "" || t.file != "" {
				if to != "" {
					return usage("--to and --wrench do not go together: the wrench's own unit is meant")
				}
				return a.convertForWrench(q, t, asJSON)
			}
			if thousand, ok := quantity.MayBeThousand(strings.Join(args, " ")); ok {
				fmt.Fprintf(a.Err, "read as %s; a point and a comma are both decimal, so a thousand is written %s\n", q, thousand)
			}
			all := q.Equivalents()
			values := all
			if to != "" {
				if values, err = only(values, q, to); err != nil {
					return problem(err)
				}
			}
			if asJSON {
				return problem(writeConversion(a.Out, q.Unit(), all, values))
			}
			var lines strings.Builder
			for _, v := range values {
				lines.WriteString(v.Text + "\n")
			}
			_, err = io.WriteString(a.Out, lines.String())
			return problem(err)
		},
	}
	cmd.Flags().StringVar(&to, "to", "", "only this `UNIT`")
	cmd.Flags().StringArrayVar(&t.wrench, "wrench", nil, "what to set on this wrench of the drawer, by `NAME`")
	cmd.Flags().StringVar(&t.adapter, "adapter", "", "adapter on its drive, by `NAME`")
	cmd.Flags().StringVar(&t.file, "wrenches", "", "`FILE` of wrenches (default: wrenches.toml in your settings folder)")
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	a.completeTools(cmd, &t)
	completeFlags(cmd, map[string]offer{"to": unitNames})
	return cmd
}

// convertForWrench says what to set on the scale of a wrench for a torque.
func (a *app) convertForWrench(s quantity.AnySpan, t tools, asJSON bool) error {
	q, ok := s.One()
	if !ok {
		return problem(fmt.Errorf("a wrench is set to one figure, and %s is more; give one, such as %s", s, q))
	}
	if q.Unit().Dimension() != quantity.TorqueKind {
		return problem(fmt.Errorf("%s is no torque; a wrench takes one such as 22 N·m", q))
	}
	b, err := a.bench(t)
	if err != nil {
		return err
	}
	choices, err := b.Choices(q.In(quantity.NewtonMetre))
	if err != nil {
		return problem(err)
	}
	if asJSON {
		doc := jsonForWrench{b.Adapter, jsonInput{Unit: q.Unit().Symbol(), Value: q.In(q.Unit())}, []jsonSetting{}}
		for _, c := range choices {
			doc.Settings = append(doc.Settings, settingJSON(c))
		}
		return problem(writeJSON(a.Out, doc))
	}
	a.printChoices(&wanted{text: q.String(), stages: 0}, choices)
	return nil
}

// only keeps the one unit asked for.
func only(values []quantity.Equivalent, q quantity.AnySpan, to string) ([]quantity.Equivalent, error) {
	u, err := quantity.ParseUnit(to)
	if err != nil {
		return nil, err
	}
	for _, v := range values {
		if v.Unit == u {
			return []quantity.Equivalent{v}, nil
		}
	}
	return nil, fmt.Errorf("%s cannot be given in %s; its units: %s", q, u, unitsOf(values))
}

func unitsOf(values []quantity.Equivalent) string {
	var names []string
	for _, v := range values {
		names = append(names, v.Unit.Symbol())
	}
	return strings.Join(names, ", ")
}

// jsonValue is a value in one unit, or what a sheet allows in it.
type jsonValue struct {
	Unit  string   `json:"unit"`
	Value float64  `json:"value"`          // of a range or a limit the figure to aim for
	Low   *float64 `json:"low,omitempty"`  // of a range; none: no lower limit
	High  *float64 `json:"high,omitempty"` // of a range; none: no upper limit
	Text  string   `json:"text"`
}

// jsonInput is a value as it was read.
type jsonInput struct {
	Unit  string   `json:"unit"`
	Value float64  `json:"value"`          // of a range or a limit the figure to aim for
	Low   *float64 `json:"low,omitempty"`  // of a range; none: no lower limit
	High  *float64 `json:"high,omitempty"` // of a range; none: no upper limit
}

// jsonConversion is a value in its other units.
type jsonConversion struct {
	Input  jsonInput   `json:"input"`
	Values []jsonValue `json:"values"`
}

// jsonForWrench is what to set on each wrench for a torque.
type jsonForWrench struct {
	Adapter  string        `json:"adapter"` // empty: none
	Input    jsonInput     `json:"input"`
	Settings []jsonSetting `json:"settings"`
}

func writeConversion(w io.Writer, in quantity.Unit, all, values []quantity.Equivalent) error {
	doc := jsonConversion{Values: []jsonValue{}}
	for _, v := range all {
		if v.Unit == in {
			doc.Input = jsonInput{v.Unit.Symbol(), v.Value, v.Low, v.High}
		}
	}
	for _, v := range values {
		doc.Values = append(doc.Values, jsonValue{v.Unit.Symbol(), v.Value, v.Low, v.High, v.Text})
	}
	return writeJSON(w, doc)
}

func writeJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}
