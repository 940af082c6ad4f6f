// Package relay passes the live feed on from servers that keep the log to servers that
// only show it, over a broker: where more screens listen than the servers of one database
// can write to. State and orders stay with the database.
//
// A Node asks every few seconds for the topics that its listeners want, and says what it
// has of them. A Giver answers with what is newer, and puts what changes on the broker as
// long as it is asked. So whatever the broker loses is found at the next question, and
// nobody has to know how many nodes there are.
//
// A node knows no keys: everybody is a stranger to it, and a Giver hands it nothing that a
// stranger may not see.
package relay
