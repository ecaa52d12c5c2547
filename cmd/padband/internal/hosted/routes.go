package hosted

import (
	"context"
	"strings"
)

// Routes say which handler answers which call.
type Routes struct {
	all   []route
	Other Handler // answers what no route does
}

type route struct {
	method string
	path   []string // a part in braces stands for any that is not empty
	do     Handler
}

// On gives calls of a pattern to a handler: a method and a path such as
// "GET /api/photos/{id}/part". Of two patterns that fit the first is taken.
func (r *Routes) On(pattern string, do Handler) {
	method, path, _ := strings.Cut(pattern, " ")
	r.all = append(r.all, route{method, strings.Split(path, "/"), do})
}

// Handle answers a call.
func (r *Routes) Handle(ctx context.Context, c Call) Answer {
	parts := strings.Split(c.Path, "/")
	for _, one := range r.all {
		if values, ok := one.fits(c.Method, parts); ok {
			c.values = values
			return one.do(ctx, c)
		}
	}
	return r.Other(ctx, c)
}

func (r route) fits(method string, parts []string) (values map[string]string, ok bool) {
	if method == "HEAD" {
		method = "GET"
	}
	if method != r.method || len(parts) != len(r.path) {
		return nil, false
	}
	values = map[string]string{}
	for i, want := range r.path {
		name, open := strings.CutPrefix(want, "{")
		switch {
		case open && parts[i] != "":
			values[strings.TrimSuffix(name, "}")] = parts[i]
		case parts[i] != want:
			return nil, false
		}
	}
	return values, true
}
