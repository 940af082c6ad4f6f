// Package runname names recorded runs. A bench names the runs that it sends, and a
// name may come twice: a counter box that was started anew makes the same run again, or
// several boxes count alike. No run is lost for its name.
//
// The rule is the same for the runs of meets and for practice. It knows neither: who
// records a run says which names are taken, and its event keeps the name under which
// the run was sent.
package runname
