//go:build js

// The marking page alone, as a browser would load it: its size is measured.
package main

import (
	"context"
	"fmt"
	"io"
	"net/url"
	"strings"
	"syscall/js"

	"padband/calib/strip/outline"
	"padband/cmd/padband/internal/host"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/page"
)

func main() {
	p, err := page.New(page.Config{
		Version: "browser", Store: &host.Memory{}, Folder: "this browser", Find: outline.Find, Carry: outline.Carry,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	js.Global().Set("padband", js.FuncOf(func(_ js.Value, args []js.Value) any {
		query, _ := url.ParseQuery(args[2].String())
		a := p.Handle(
			context.Background(),
			hosted.Call{Method: args[0].String(), Path: args[1].String(), Query: query, Length: -1, Body: strings.NewReader(args[3].String())},
		)
		data := a.Data
		if a.File != nil {
			data, _ = io.ReadAll(a.File)
		}
		return fmt.Sprint(a.Status, " ", a.Header["Content-Type"], " ", len(data), " ", a.Stream != nil)
	}))
	select {}
}
