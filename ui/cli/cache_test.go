package cli

import (
	"os"
	"path/filepath"
	"testing"
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
