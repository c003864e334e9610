//go:build unix && outside

package cli

func init() { kills.pipe, kills.terminal = 800, 250 }
