//! A rule-based checker of wall and interface details written as plain text.
