package cli

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// goList gives the lines that a template makes of the packages in the program
// as it is built for Linux.
func goList(t *testing.T, template string) (lines []string) {
	t.Helper()
	cmd := exec.Command("go", "list", "-deps", "-f", template, "evenpull")
	cmd.Env = append(os.Environ(), "GOOS=linux", "GOARCH=amd64")
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(out)) {
		if line = strings.TrimSpace(line); line != "" && !slices.Contains(lines, line) {
			lines = append(lines, line)
		}
	}
	slices.Sort(lines)
	return lines
}

// Nobody but these imports what knows of networks or other programs, and why.
var mayKnow = map[string]string{
	"github.com/spf13/pflag net":                    "flags that are addresses, which no command has",
	"github.com/charmbracelet/x/ansi net/url":       "writes a link's address",
	"text/template net/url":                         "writes a link's address",
	"net net/netip":                                 "the standard library to itself",
	"net/url net/netip":                             "the standard library to itself",
	"github.com/charmbracelet/bubbletea os/exec":    "a screen may step aside for an editor, which none does",
	"github.com/charmbracelet/colorprofile os/exec": "asks tmux for its colours",
	"evenpull/ui/cli os/exec":                       "has ssh-keygen sign a record",
	"evenpull/ui/voice os/exec":                     "starts the speech program that was named",
}

func TestNothingImportsTheNetworkButByName(t *testing.T) {
	found := goList(t, `{{$p := .ImportPath}}{{range .Imports}}{{$p}} {{.}}{{"\n"}}{{end}}`)
	watched := []string{"net", "os/exec", "crypto/tls", "log/syslog", "plugin"}
	seen := map[string]bool{}
	for _, line := range found {
		_, path, _ := strings.Cut(line, " ")
		if slices.Contains(watched, path) || strings.HasPrefix(path, "net/") || strings.HasPrefix(path, "golang.org/x/net") {
			if seen[line] = true; mayKnow[line] == "" {
				t.Errorf("%s: an import of what knows of networks or other programs, and no reason given for it", line)
			}
		}
	}
	for line := range mayKnow {
		if !seen[line] {
			t.Errorf("%s: no such import; take the reason out", line)
		}
	}
}

// Pages are written by ui/markup: templates look methods up by name, so with them the
// linker has to keep every method there is, 2 MB that every command reads in.
func TestNothingOfOursImportsTemplates(t *testing.T) {
	for _, line := range goList(t, `{{$p := .ImportPath}}{{range .Imports}}{{$p}} {{.}}{{"\n"}}{{end}}`) {
		from, path, _ := strings.Cut(line, " ")
		if path == "html/template" || path == "text/template" && strings.HasPrefix(from, "evenpull") {
			t.Errorf("%s imports %s", from, path)
		}
	}
}

// What is imported is not all linked: nothing in the program can open a socket, and no
// template is carried out.
func noSocketAndNoTemplate(t *testing.T, program string) {
	out, err := exec.Command("go", "tool", "nm", program).Output()
	if err != nil {
		t.Fatal(err)
	}
	functions := 0
	for line := range strings.Lines(string(out)) {
		fields := strings.Fields(line)
		if len(fields) != 3 || strings.ToUpper(fields[1]) != "T" {
			continue
		}
		functions++
		name := fields[2]
		for _, way := range []string{"syscall.socket", "syscall.Socket", "syscall.connect", "syscall.Connect", "syscall.bind", "unix.Socket", "unix.Connect", "net.(*Dialer)", "net.Listen", "net/http.",
			"html/template.", "text/template.(*Template).Execute", "text/template.(*state)", "reflect.Value.MethodByName", "reflect.(*rtype).MethodByName"} {
			if strings.Contains(name, way) {
				t.Errorf("the program has %s in it", name)
			}
		}
	}
	if functions < 1000 {
		t.Errorf("only %d functions seen in the program", functions)
	}
}

// licences of the modules in the program, by words that each has and no other.
var licences = map[string]string{
	"MIT":    "Permission is hereby granted, free of charge",
	"BSD":    "Redistribution and use in source and binary forms",
	"Apache": "Apache License",
}

var modules = map[string]string{
	"github.com/BurntSushi/toml":            "MIT",
	"github.com/aymanbagabas/go-osc52/v2":   "MIT",
	"github.com/charmbracelet/bubbles":      "MIT",
	"github.com/charmbracelet/bubbletea":    "MIT",
	"github.com/charmbracelet/colorprofile": "MIT",
	"github.com/charmbracelet/lipgloss":     "MIT",
	"github.com/charmbracelet/x/ansi":       "MIT",
	"github.com/charmbracelet/x/cellbuf":    "MIT",
	"github.com/charmbracelet/x/term":       "MIT",
	"github.com/clipperhouse/displaywidth":  "MIT",
	"github.com/clipperhouse/uax29/v2":      "MIT",
	"github.com/lucasb-eyer/go-colorful":    "MIT",
	"github.com/mattn/go-isatty":            "MIT",
	"github.com/mattn/go-runewidth":         "MIT",
	"github.com/muesli/ansi":                "MIT",
	"github.com/muesli/cancelreader":        "MIT",
	"github.com/muesli/termenv":             "MIT",
	"github.com/pelletier/go-toml/v2":       "MIT",
	"github.com/rivo/uniseg":                "MIT",
	"github.com/spf13/cobra":                "Apache",
	"github.com/spf13/pflag":                "BSD",
	"github.com/xo/terminfo":                "MIT",
	"golang.org/x/sys":                      "BSD",
}

func TestEveryModuleInTheProgramHasTheLicenceSaid(t *testing.T) {
	linked := goList(t, `{{with .Module}}{{if not .Main}}{{.Path}} {{.Dir}}{{end}}{{end}}`)
	for _, line := range linked {
		path, dir, _ := strings.Cut(line, " ")
		files, _ := filepath.Glob(filepath.Join(dir, "LICENSE*"))
		if copying, _ := filepath.Glob(filepath.Join(dir, "COPYING*")); len(files)+len(copying) == 0 {
			t.Errorf("%s: no licence", path)
			continue
		} else {
			files = append(files, copying...)
		}
		text, err := os.ReadFile(files[0])
		if err != nil {
			t.Fatal(err)
		}
		said, known := licences[modules[path]]
		if !known || !strings.Contains(strings.Join(strings.Fields(string(text)), " "), said) {
			t.Errorf("%s: its licence is said to be %q; read %s", path, modules[path], files[0])
		}
	}
	if len(linked) != len(modules) {
		t.Errorf("%d modules in the program, %d known", len(linked), len(modules))
	}
}
