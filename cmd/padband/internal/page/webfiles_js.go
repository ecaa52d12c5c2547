package page

import "embed"

// embedded is empty in a program for a browser: the page's own files were loaded
// before it, from the folder that they lie in, and would be loaded twice.
var embedded embed.FS
