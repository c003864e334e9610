package cli

import (
	"runtime"
	"runtime/debug"
	"strings"
)

// version names this build: the module's version, the commit it was made from
// and the platform. It is written into records, so that a later reader knows
// what made them.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		info = &debug.BuildInfo{}
	}
	return versionOf(info)
}

func versionOf(info *debug.BuildInfo) string {
	const enough = 12 // characters of a commit, as pseudo-versions have it
	number := info.Main.Version
	if number == "" {
		number = "(devel)"
	}
	words := []string{"evenpull", number}
	settings := map[string]string{}
	for _, s := range info.Settings {
		settings[s.Key] = s.Value
	}
	if commit := settings["vcs.revision"]; commit != "" {
		commit = commit[:min(enough, len(commit))]
		if settings["vcs.modified"] == "true" {
			commit += "+changes"
		}
		words = append(words, commit)
	}
	return strings.Join(append(words, runtime.GOOS+"/"+runtime.GOARCH), " ")
}
