package server

import (
	"context"
	"log"
	"os"
	"os/signal"
	"syscall"
	"time"

	"cobber/kernel/wire"
)

// linger is how long front ends have to take the last messages. They take them
// at once unless the machine is overloaded. jupyter_client kills a kernel that
// is still there five seconds after the request to end.
const linger = 3 * time.Second

// Serve is a kernel's whole life: it opens the sockets that a connection file
// names, answers until a front end asks for the end, the process is told to
// end or the process that started it is gone, closes the session, and sends
// what is left. What the front ends cannot be told goes to the standard error
// of the process.
func Serve(connectionFile string, session Session, about About) error {
	connection, err := wire.ReadConnection(connectionFile)
	if err != nil {
		return err
	}
	logf := log.New(os.Stderr, about.Implementation+": ", log.LstdFlags).Printf
	sender := wire.NewSender()
	sockets, err := wire.Bind(connection, sender, logf)
	if err != nil {
		return err
	}
	defer sockets.Close(linger)
	server := New(session, socketTransport{sockets}, sender, about, logf)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	go followSignals(ctx, server)
	go func() {
		if awaitParentsEnd(ctx) {
			logf("the process that started the kernel is gone: it ends too")
			server.Stop()
		}
	}()
	server.Run(ctx)
	return nil
}

// followSignals takes an interrupt of the terminal for that of the user, and
// lets a polite kill end the kernel in order.
func followSignals(ctx context.Context, server *Server) {
	signals := make(chan os.Signal, 4)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	defer signal.Stop(signals)
	for {
		select {
		case <-ctx.Done():
			return
		case received := <-signals:
			if received == os.Interrupt {
				server.Interrupt()
			} else {
				server.Stop()
			}
		}
	}
}
