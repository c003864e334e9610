package plan_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"evenpull/procedures/plan"
	"evenpull/spec/growth"
	"evenpull/spec/read"
)

func planOf(t *testing.T, sheet string) *plan.Plan {
	t.Helper()
	p, problems := read.Procedure("sheet.toml", []byte(sheet))
	if p == nil {
		t.Fatal(problems.Errors())
	}
	return plan.Of(p)
}

// Passes of one order share their work; each comes out as in a sheet where it is the only
// one, whatever other order or other bolts came between.
func TestAPassIsOrderedAsItWouldBeAlone(t *testing.T) {
	const bolts = 13
	sheet := growth.Sheet(bolts)
	pass := func(n int, order string, of ...int) string {
		var ids []string
		for _, i := range of {
			ids = append(ids, fmt.Sprintf("%q", fmt.Sprintf("B%d", i)))
		}
		return fmt.Sprintf("[[pass]]\nname = \"Pass %d\"\nfasteners = [%s]\ntorque = \"22 N·m\"\norder = %q\n", n, strings.Join(ids, ", "), order)
	}
	all, some := []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}, []int{2, 3, 5, 7, 9, 11, 12}
	var passes []string
	for i, order := range []string{"cross", "spiral", "listed", "cross", "spiral", "cross", "listed"} {
		of := all
		if i%2 == 1 {
			of = some
		}
		other := map[string]string{"cross": "spiral", "spiral": "listed", "listed": "cross"}[order]
		passes = append(passes, pass(i, order, of...), pass(100+i, order, of...), pass(400+i, other, of...), pass(200+i, order, 4))
	}
	why := func(stages []*plan.Stage) (list []string) {
		for _, s := range stages {
			list = append(list, s.Fastener.ID+": "+s.Why())
		}
		return list
	}
	together := planOf(t, sheet+strings.Join(passes, "")).Stages
	for _, one := range passes {
		whole := planOf(t, sheet+one+pass(300, "listed", all...)).Stages // every bolt has to be in some pass
		alone := why(whole[:len(whole)-bolts])
		if got := why(together[:len(alone)]); !slices.Equal(got, alone) {
			t.Errorf("among others %q, alone %q", got, alone)
		}
		together = together[len(alone):]
	}
}

// What is written stage by stage is the document that its type says, whatever stands in it.
func TestAPlanIsWrittenAsOneDocument(t *testing.T) {
	bolts := growth.Sheet(3, "cross", "reverse")
	for name, sheet := range map[string]string{
		"bolts":      bolts,
		"a sly name": strings.Replace(bolts, `"Close a large cover"`, `"\"stages\": [] and <b>"`, 1),
		"parts only": "format = 1\n[procedure]\nname = \"Fit the key\"\ndirection = \"close\"\nsource = \"invented\"\n[[part]]\nname = \"key\"\nkind = \"key\"\n",
	} {
		var out bytes.Buffer
		if err := planOf(t, sheet).WriteJSON(&out); err != nil {
			t.Fatal(err)
		}
		var doc plan.Document
		if err := json.Unmarshal(out.Bytes(), &doc); err != nil {
			t.Fatalf("%s: %v\n%s", name, err, out.Bytes())
		}
		var want bytes.Buffer
		enc := json.NewEncoder(&want)
		enc.SetEscapeHTML(false)
		enc.SetIndent("", "  ")
		if err := enc.Encode(doc); err != nil || out.String() != want.String() {
			t.Errorf("%s: %v\n%s\nwant\n%s", name, err, out.Bytes(), want.Bytes())
		}
		if n := len(doc.Stages); (n == 6) != (name != "parts only") {
			t.Errorf("%s: %d stages", name, n)
		}
	}
}
