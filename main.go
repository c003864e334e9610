// Evenpull walks the person at an engine stand through tightening and
// loosening a joint, bolt by bolt, and keeps the record of it.
package main

import (
	"os"
	"time"

	"evenpull/ui/cli"
)

func main() {
	os.Exit(cli.Run(os.Args[1:], cli.Env{
		In:     os.Stdin,
		Out:    os.Stdout,
		Err:    os.Stderr,
		Now:    time.Now,
		Getenv: os.Getenv,
	}))
}
