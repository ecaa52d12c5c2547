package page

import "embed"

// embedded is empty in a program for a browser, because the page's own files were
// loaded before the program, from the folder that they lie in, and would be loaded
// twice.
var embedded embed.FS
