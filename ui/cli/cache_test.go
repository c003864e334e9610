package cli

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestWhereListsLeaveAMemo(t *testing.T) {
	own, xdg := t.TempDir(), t.TempDir()
	system := ""
	if dir, err := os.UserCacheDir(); err == nil {
		system = filepath.Join(dir, "evenpull")
	}
	for _, c := range []struct {
		env  map[string]string
		want string
	}{
		{nil, system},
		{map[string]string{"XDG_CACHE_HOME": xdg}, filepath.Join(xdg, "evenpull")},
		{map[string]string{"XDG_CACHE_HOME": "not/absolute"}, system},
		{map[string]string{"EVENPULL_CACHE": own, "XDG_CACHE_HOME": xdg}, own},
		{map[string]string{"EVENPULL_CACHE": "off", "XDG_CACHE_HOME": xdg}, ""},
		{map[string]string{"EVENPULL_CACHE": "not/absolute", "XDG_CACHE_HOME": xdg}, ""},
	} {
		a := &app{Env: Env{Getenv: func(name string) string { return c.env[name] }}}
		if got := a.cacheDir(); got != c.want {
			t.Errorf("%v: %q, want %q", c.env, got, c.want)
		}
	}
}

// The lists that have a memo read its clock in the folder of the cache, which is there from then on: so it shows that
// records and the start screen ask it, and verify and export, which have to look, do not.
func TestListsAskTheirMemo(t *testing.T) {
	records := t.TempDir()
	for i := range 64 {
		if err := os.WriteFile(filepath.Join(records, fmt.Sprintf("walk-%02d.jsonl", i)), []byte("no record\n"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for name, c := range map[string]struct {
		do   func(a *app)
		want bool
	}{
		"records": {func(a *app) { Run([]string{"records", "--records", records}, a.Env) }, true},
		"the start screen": {func(a *app) {
			desk, err := a.desk()
			if err == nil {
				_, err = desk.Board()
			}
			if err != nil {
				t.Error(err)
			}
		}, true},
		"verify": {func(a *app) { Run([]string{"verify", "--records", records, "walk-00"}, a.Env) }, false},
		"export": {func(a *app) { Run([]string{"export", "--records", records, "walk-00"}, a.Env) }, false},
	} {
		cache := filepath.Join(t.TempDir(), "cache")
		env := Env{In: strings.NewReader(""), Out: io.Discard, Err: io.Discard, Now: time.Now, Getenv: func(name string) string { return map[string]string{"EVENPULL_CACHE": cache}[name] }}
		c.do(&app{Env: env, recordsDir: records})
		if _, err := os.Stat(cache); (err == nil) != c.want {
			t.Errorf("%s asks the memo: %v, want %v", name, err == nil, c.want)
		}
	}
}
