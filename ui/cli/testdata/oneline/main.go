// Command oneline is what the benchmarks hold the program's own start against:
// a Go program that prints one line.
package main

import "fmt"

func main() { fmt.Println("16.23 lbf·ft") }
