//go:build !js

package page

import "embed"

// embedded are the page's own files.
//
//go:embed web
var embedded embed.FS
