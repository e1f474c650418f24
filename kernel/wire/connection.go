package wire

import (
	"encoding/json"
	"fmt"
	"net"
	"os"
	"strconv"
)

// Connection is what a connection file says: where a kernel listens, and how
// its messages are signed. Other keys of the file are ignored.
type Connection struct {
	Transport       string `json:"transport"`
	IP              string `json:"ip"`
	ShellPort       int    `json:"shell_port"`
	ControlPort     int    `json:"control_port"`
	StdinPort       int    `json:"stdin_port"`
	IOPubPort       int    `json:"iopub_port"`
	HeartbeatPort   int    `json:"hb_port"`
	SignatureScheme string `json:"signature_scheme"`
	Key             string `json:"key"`
}

// ReadConnection reads a connection file. Its errors name the file and what is
// wrong in it.
func ReadConnection(path string) (Connection, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return Connection{}, fmt.Errorf("connection file: %w", err)
	}
	var c Connection
	if err := json.Unmarshal(text, &c); err != nil {
		return Connection{}, fmt.Errorf("connection file %s: %w", path, err)
	}
	if err := c.check(); err != nil {
		return Connection{}, fmt.Errorf("connection file %s: %w", path, err)
	}
	return c, nil
}

func (c *Connection) check() error {
	if c.Transport == "" {
		c.Transport = "tcp"
	}
	if c.Transport != "tcp" && c.Transport != "ipc" {
		return fmt.Errorf("transport %q is not known: use tcp or ipc", c.Transport)
	}
	if c.IP == "" {
		return fmt.Errorf("ip is missing")
	}
	if c.Key != "" && c.SignatureScheme != "" && c.SignatureScheme != "hmac-sha256" {
		return fmt.Errorf("signature_scheme %q is not known: use hmac-sha256", c.SignatureScheme)
	}
	for _, port := range []struct {
		name   string
		number int
	}{
		{"shell_port", c.ShellPort}, {"control_port", c.ControlPort}, {"stdin_port", c.StdinPort},
		{"iopub_port", c.IOPubPort}, {"hb_port", c.HeartbeatPort},
	} {
		if port.number < 0 || port.number > 65535 {
			return fmt.Errorf("%s %d is not a port", port.name, port.number)
		}
	}
	return nil
}

// listen opens the place a socket is reached at. Port 0 of tcp takes any free
// port, which tests use.
func (c Connection) listen(port int) (net.Listener, error) {
	if c.Transport == "ipc" {
		path := c.IP + "-" + strconv.Itoa(port)
		// A kernel that was killed leaves its socket file, which would keep its
		// successor from listening; one in use answers.
		if conn, err := net.Dial("unix", path); err == nil {
			conn.Close()
		} else {
			os.Remove(path)
		}
		return net.Listen("unix", path)
	}
	host := c.IP
	if host == "*" {
		host = ""
	}
	return net.Listen("tcp", net.JoinHostPort(host, strconv.Itoa(port)))
}
