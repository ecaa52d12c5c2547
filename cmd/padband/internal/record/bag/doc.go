// Package bag is the container of a record: a folder, or a zip file of it, after
// BagIt (RFC 8493), with a checksum of every file, the lines of bag-info.txt and
// names that are safe on every system. It knows nothing of strips or readings.
//
// [Files] gives all files of a bag, and [WriteZip] packs them. [Open] opens a
// folder or a zip file that may come from anybody, and refuses what could harm;
// [Check] says whether all is there and unchanged.
package bag
