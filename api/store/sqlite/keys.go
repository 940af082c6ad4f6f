package sqlite

// keys are the tokens that are out and the sessions that were made with them.
type keys struct{ in *Store }
