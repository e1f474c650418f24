// Package wire carries Jupyter messages: the five sockets of a kernel, the
// frames on them, their JSON, their signatures, and the connection file that
// says where the sockets are.
//
// It never looks at what a message asks for, and knows nothing of sessions.
//
// Into it go a Connection and messages to send. Out of it come the messages of
// the front ends, each with the Route that an answer takes back.
//
// The types to read first are Message and Sockets.
//
// ZeroMQ's own language, ZMTP, is spoken by the library zmq4, which nothing
// else in the kernel may import. Of zmq4 only the connections are used. Its
// socket types are not, because a kernel would suffer from them: one client
// that connects and says nothing keeps all others out, one subscriber that
// does not read stops the output of all, and what is queued when the kernel
// exits is lost. Here every peer has goroutines and a queue of its own.
package wire
