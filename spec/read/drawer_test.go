package read

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Every file of testdata/bad-wrenches gives exactly the problems beside it.
func TestReadDrawerReportsEveryProblemWhereItStands(t *testing.T) {
	dir := filepath.Join("..", "..", "testdata", "bad-wrenches")
	files, err := filepath.Glob(filepath.Join(dir, "*.toml"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no files in %s: %v", dir, err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".toml")
		t.Run(name, func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			d, problems := Drawer(name+".toml", text)
			if (d == nil) != (len(problems.Errors()) > 0) {
				t.Errorf("drawer %v with %d errors", d, len(problems.Errors()))
			}
			var b strings.Builder
			for _, p := range problems {
				b.WriteString(p.Error() + "\n" + shown(p, text) + "\n\n")
			}
			compare(t, filepath.Join(dir, name+".want"), b.String())
		})
	}
	wants, _ := filepath.Glob(filepath.Join(dir, "*.want"))
	if len(wants) != len(files) {
		t.Errorf("%d .want files for %d files", len(wants), len(files))
	}
}

func TestReadDrawerKeepsTheScalesOwnUnit(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "bad-wrenches", "plain-good.toml"))
	if err != nil {
		t.Fatal(err)
	}
	d, problems := Drawer("plain-good.toml", text)
	if d == nil {
		t.Fatal(problems)
	}
	beam, err := d.Wrench("OLD beam")
	if err != nil {
		t.Fatal(err)
	}
	if beam.Unit != "lbf·ft" || beam.Low != 0 || beam.High != 100 || beam.Graduation != 2 || math.Abs(beam.UnitNm-1.3558179483314004) > 1e-15 {
		t.Errorf("got %+v", beam)
	}
	if crow, err := d.Adapter("crowfoot 12"); err != nil || crow.LengthMM != 40 || crow.AngleDeg != 90 {
		t.Errorf("got %+v, %v", crow, err)
	}
	if ext, err := d.Adapter("extension"); err != nil || ext.LengthMM != 50.8 {
		t.Errorf("got %+v, %v", ext, err)
	}
	if _, err := d.Wrench("smal click"); err == nil || !strings.Contains(err.Error(), `did you mean "small click"?`) {
		t.Errorf("got %v", err)
	}
}

func FuzzReadDrawer(f *testing.F) {
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "bad-wrenches", "*.toml"))
	if err != nil || len(files) == 0 {
		f.Fatalf("no examples: %v", err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		d, problems := Drawer("f.toml", text)
		_ = problems.Error()
		if d == nil {
			return
		}
		for _, w := range d.Wrenches { // what is let in can be reckoned with
			if err := w.Check(); err != nil {
				t.Errorf("let in: %v", err)
			}
		}
	})
}
