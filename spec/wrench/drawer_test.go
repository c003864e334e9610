package wrench

import (
	"strings"
	"testing"
)

func TestADrawerFindsByNameInAnyCase(t *testing.T) {
	d := &Drawer{File: "wrenches.toml", Wrenches: []Wrench{click("small click", 5, 25, 0.5), click("big click", 40, 200, 1)},
		Adapters: []Adapter{{"crowfoot 12", 30, 90}, {"extension", 100, 0}}}
	for name, want := range map[string]string{"small click": "small click", " Big CLICK ": "big click"} {
		if w, err := d.Wrench(name); err != nil || w.Name != want {
			t.Errorf("%q finds %q, %v", name, w.Name, err)
		}
	}
	for name, want := range map[string]string{"crowfoot 12": "crowfoot 12", " EXTENSION": "extension", "": ""} {
		if a, err := d.Adapter(name); err != nil || a.Name != want || a.Name != "" && a.LengthMM == 0 {
			t.Errorf("%q finds %+v, %v", name, a, err)
		}
	}
	refused := func(what string, err error, wants ...string) {
		t.Helper()
		for _, want := range wants {
			if err == nil || !strings.Contains(err.Error(), want) {
				t.Errorf("%s: %v, want it to say %q", what, err, want)
			}
		}
	}
	_, err := d.Wrench("smal click")
	refused("a wrench that is not there", err, `no wrench "smal click" in wrenches.toml`, `"small click"`)
	_, err = d.Adapter("crowfoot 21")
	refused("an adapter that is not there", err, `no adapter "crowfoot 21" in wrenches.toml`, `"crowfoot 12"`)
	_, err = d.Adapter("dial")
	refused("none like it", err, "crowfoot 12, extension")
	d.Adapters = nil
	_, err = d.Adapter("extension")
	refused("no adapters", err, "there are no adapters in wrenches.toml; add [[adapter]]")
}
