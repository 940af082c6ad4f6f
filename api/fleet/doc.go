// Package fleet has the servers that share a store know what all of them read, so that a
// server of a new version writes events as those of the version before read them, until
// all are new.
//
// A server enters before it takes orders, and leaves when it has taken its last. Entering
// raises the store's epoch, and who appends names the epoch by which it knows the others:
// so an event that a server cannot read is never written after that server has entered,
// whoever was away or slow meanwhile, and without asking for each order. It beats as long
// as it lives; one whose beat stands still while another looks at it several times in a
// row is taken for dead and removed. Looks are counted, no clock is compared: neither
// those of the machines nor that of the database.
package fleet
