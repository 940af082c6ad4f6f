// Package hosted keeps several clubs on one server apart: which there are, under which
// addresses, and how one comes to be there.
package hosted
