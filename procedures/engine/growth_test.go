package engine

import (
	"fmt"
	"strings"
	"testing"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/growth"
)

// cover is a large cover's sheet, apart or together, with as many parts as it has bolts.
func cover(b *testing.B, bolts int, direction spec.Direction) *spec.Procedure {
	text := growth.Sheet(bolts)
	if direction == spec.Open {
		text = strings.Replace(text, `"close"`, `"open"`, 1) + "[[pass]]\nname = \"Out\"\ngroups = [\"rim\"]\nremove = true\norder = \"listed\"\n"
	} else {
		text += "[[pass]]\nname = \"Final\"\ngroups = [\"rim\"]\ntorque = \"100 %\"\norder = \"listed\"\n"
	}
	for i := range bolts {
		text += fmt.Sprintf("[[part]]\nname = \"spacer %d\"\n", i)
	}
	p := sheet(b, text)
	p.Name += " " + string(direction)
	return p
}

// coverOff takes the cover off to the end, a bolt in four found stretched.
func coverOff(b *testing.B, p *spec.Procedure, bolts int) *walked {
	found := map[string]walk.Facts{}
	for i := 0; i < bolts; i += 4 {
		found[fmt.Sprintf("B%d", i)] = walk.Facts{walk.Condition: "stretched"}
	}
	return begin(b, "down", p, day).on("", found).done()
}

// sizes are of a joint; beyond, making the walks takes longer than what is measured.
var sizes = []int{60, 240, 960, 3840}

// BenchmarkGrowthOfFold folds a strip-down of so many bolts, and as many parts.
func BenchmarkGrowthOfFold(b *testing.B) {
	growth.Exponent(b, sizes, func(n int) func() {
		down, closer := coverOff(b, cover(b, n, spec.Open), n).walk(), cover(b, n, spec.Close)
		return func() {
			if e := fold("7", []Walk{down}, nil, []*spec.Procedure{closer}); len(e.Off) != 2*n {
				b.Fatal(len(e.Off))
			}
		}
	})
}

// BenchmarkGrowthOfWalks folds so many walks of one engine, apart and together by turns.
func BenchmarkGrowthOfWalks(b *testing.B) {
	growth.Exponent(b, []int{20, 80, 320, 1280}, func(n int) func() {
		var walks []Walk
		for i := range n {
			name := []string{"flywheel-off", "flywheel-nut"}[i%2]
			walks = append(walks, begin(b, fmt.Sprint(i), bundled(b, name), day.AddDate(0, i, 0)).on("", nil).done().walk())
		}
		return func() {
			if e := fold("7", walks, nil, nil); len(e.Walks) != n {
				b.Fatal(len(e.Walks))
			}
		}
	})
}

// BenchmarkGrowthOfCarried gives a close-up what is off: so many bolts, and as many parts.
func BenchmarkGrowthOfCarried(b *testing.B) {
	growth.Exponent(b, sizes, func(n int) func() {
		closer := cover(b, n, spec.Close)
		e := fold("7", []Walk{coverOff(b, cover(b, n, spec.Open), n).walk()}, nil, []*spec.Procedure{closer})
		return func() {
			if list := e.Carried(closer); len(list) != 2*n {
				b.Fatal(len(list))
			}
		}
	})
}

// BenchmarkGrowthOfBring brings a close-up so many bolts, and as many parts.
func BenchmarkGrowthOfBring(b *testing.B) {
	growth.Exponent(b, sizes, func(n int) func() {
		closer := cover(b, n, spec.Close)
		list := fold("7", []Walk{coverOff(b, cover(b, n, spec.Open), n).walk()}, nil, []*spec.Procedure{closer}).Carried(closer)
		return func() { begin(b, "up", closer, day).do(walk.Command{Do: walk.Bring, Brought: list}) }
	})
}
