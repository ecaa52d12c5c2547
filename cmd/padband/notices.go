package main

import _ "embed"

// notices are the licences of all that the program holds.
//
//go:generate go run makenotices.go
//go:embed notices.txt
var notices string
