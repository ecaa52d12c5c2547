// Command padband reads a water-test strip from a phone photo.
//
// The table of commands is in commands.go: each row has its name, how it is
// called, and the function that adds its flags and returns what is done with
// them. One file holds one command: its flags, the check of a call, and the call
// of the package that does the work. Help, the completions of shells and the
// manual page are made from the same table, so that they tell of what there is.
//
// What several commands share is in files of its own: input.go reads a photo with
// what belongs to it, ask.go has the flags of what a reading is set against,
// records.go those that choose records, output.go writes, terminal.go asks a
// person and shows how far a walk is. run.go finds the command and says what is
// wrong with a call.
package main

import "os"

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
