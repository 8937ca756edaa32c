//! The editor's side: the open Language Server Protocol over a pair of streams, a thin layer on the core.
//!
//! One message after the other, without an async runtime. Changes that wait are applied together before anything is
//! reviewed, so that no one waits for the findings of a text that has changed since.

mod actions;
mod address;
mod capabilities;
mod complete;
mod cures;
mod diagnostics;
mod dispatch;
mod drawing;
mod due;
mod folding;
mod format;
mod greeting;
mod hints;
mod hover;
mod library;
mod message;
mod position;
mod references;
mod rename;
mod review;
mod session;
mod settings;
mod state;
mod symbols;
mod tokens;

pub use message::Message;
pub use session::{SessionEnd, serve};
pub(in crate::server) use state::State;
