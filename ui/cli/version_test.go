package cli

import (
	"runtime"
	"runtime/debug"
	"testing"
)

func TestVersionTellsBuildsApart(t *testing.T) {
	platform := " " + runtime.GOOS + "/" + runtime.GOARCH
	commit := debug.BuildSetting{Key: "vcs.revision", Value: "0123456789abcdef0123456789abcdef01234567"}
	changed := debug.BuildSetting{Key: "vcs.modified", Value: "true"}
	for _, c := range []struct {
		info debug.BuildInfo
		want string
	}{
		{debug.BuildInfo{}, "evenpull (devel)"},
		{debug.BuildInfo{Main: debug.Module{Version: "v1.2.3"}}, "evenpull v1.2.3"},
		{debug.BuildInfo{Main: debug.Module{Version: "v1.2.3"}, Settings: []debug.BuildSetting{commit}}, "evenpull v1.2.3 0123456789ab"},
		{debug.BuildInfo{Settings: []debug.BuildSetting{commit, changed}}, "evenpull (devel) 0123456789ab+changes"},
	} {
		if got := versionOf(&c.info); got != c.want+platform {
			t.Errorf("%+v: %q, want %q", c.info, got, c.want+platform)
		}
	}
}
