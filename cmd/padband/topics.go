package main

import (
	"io"
	"strings"

	"padband/cmd/padband/guide"
)

// topics are the pages of the guide, and last the page of codes, which comes
// from the table that the program decides by.
func topics() []guide.Topic {
	var codes strings.Builder
	codesHelp(&codes)
	return append(guide.Topics(), guide.Topic{Name: "codes", Title: "The warnings' codes: what each stands for, and what to do", Text: codes.String()})
}

// topicNames are the words that padband help takes besides commands.
func topicNames() string {
	var names []string
	for _, t := range topics() {
		names = append(names, t.Name)
	}
	return strings.Join(names, ", ")
}

// topicHelp prints the page of that name, and says whether there is one.
func topicHelp(w io.Writer, name string) bool {
	for _, t := range topics() {
		if t.Name == name {
			io.WriteString(w, t.Text)
			return true
		}
	}
	return false
}
