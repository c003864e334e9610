package cli

import (
	"os"
	"path/filepath"
	"strings"

	"evenpull/procedures/record"
	"evenpull/procedures/shell"
)

// namedRecords is the folder of records that was named, by --records or in the
// environment; empty for the platform's own.
func (a *app) namedRecords() string {
	if a.recordsDir != "" || a.Getenv == nil {
		return a.recordsDir
	}
	return a.Getenv("EVENPULL_RECORDS")
}

// store opens the folder of records.
func (a *app) store() (*record.Store, error) {
	dir := a.namedRecords()
	if dir == "" {
		var err error
		if dir, err = record.DefaultDir(); err != nil {
			return nil, problem(err)
		}
	}
	s, err := record.Open(dir, a.Now)
	return s, problem(err)
}

// cacheDir is where lists may leave what spares them a replay; empty for nowhere.
func (a *app) cacheDir() string {
	if own := a.setting("EVENPULL_CACHE"); own != "" {
		if filepath.IsAbs(own) {
			return own
		}
		return "" // off
	}
	dir := a.setting("XDG_CACHE_HOME")
	if !filepath.IsAbs(dir) {
		var err error
		if dir, err = os.UserCacheDir(); err != nil {
			return ""
		}
	}
	return filepath.Join(dir, "evenpull")
}

// pointed adds the folder of records to every command of this program that a
// text names, when it is not the platform's own: pasted into another terminal
// it finds the same records.
func (a *app) pointed(text string) string {
	dir := a.namedRecords()
	if dir == "" || !strings.Contains(text, "evenpull ") {
		return text
	}
	var pairs []string
	for _, c := range a.commands() {
		pairs = append(pairs, "evenpull "+c.name, "evenpull --records "+shell.Word(dir)+" "+c.name)
	}
	return strings.NewReplacer(pairs...).Replace(text)
}

// recordsFlag is what a command needs to find the same folder again, or "".
func (a *app) recordsFlag() string {
	if dir := a.namedRecords(); dir != "" {
		return " --records " + shell.Word(dir)
	}
	return ""
}

func (a *app) pointedAll(texts []string) []string {
	var list []string
	for _, text := range texts {
		list = append(list, a.pointed(text))
	}
	return list
}
