package server

import "cobber/kernel/wire"

type kernelInfoReply struct {
	Status                string       `json:"status"`
	ProtocolVersion       string       `json:"protocol_version"`
	Implementation        string       `json:"implementation"`
	ImplementationVersion string       `json:"implementation_version"`
	LanguageInfo          languageInfo `json:"language_info"`
	Banner                string       `json:"banner"`
	HelpLinks             []HelpLink   `json:"help_links"`
	Debugger              bool         `json:"debugger"`
	SupportedFeatures     []string     `json:"supported_features"`
}

type languageInfo struct {
	Name           string `json:"name"`
	Version        string `json:"version"`
	MimeType       string `json:"mimetype"`
	FileExtension  string `json:"file_extension"`
	PygmentsLexer  string `json:"pygments_lexer"`
	CodeMirrorMode string `json:"codemirror_mode"`
}

func (s *Server) kernelInfo(*wire.Message) (any, error) {
	links := s.about.HelpLinks
	if links == nil {
		links = []HelpLink{}
	}
	return kernelInfoReply{
		Status:                "ok",
		ProtocolVersion:       wire.ProtocolVersion,
		Implementation:        s.about.Implementation,
		ImplementationVersion: s.about.Version,
		LanguageInfo: languageInfo{
			Name:           "go",
			Version:        s.about.GoVersion,
			MimeType:       "text/x-go",
			FileExtension:  ".go",
			PygmentsLexer:  "go",
			CodeMirrorMode: "go",
		},
		Banner:            s.about.Banner,
		HelpLinks:         links,
		SupportedFeatures: []string{},
	}, nil
}
