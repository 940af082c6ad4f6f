// Package rows is what the speed of appending is measured against: programs that write
// the same rows in the same settings and do nothing else. Nothing is decided, sealed or
// folded, and nobody but the program may write.
package rows
