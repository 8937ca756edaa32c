//! Why the server does not do what an editor asks: each refusal in one place.

/// What a request cannot have, and why. The code that finds it builds the variant; its wording is here.
#[derive(Clone, Copy, Debug)]
pub enum Message<'a> {
    // Requests.
    UnknownRequest {
        method: &'a str,
    },
    Failed,
    SessionOver,
    Canceled,
    // What is shown and formatted.
    TooManyEdges {
        detail: &'a str,
    },
    NotFormatted,
    /// In place of the findings of a file.
    Unchecked,
    // Another name for a thing.
    NotAName {
        new: &'a str,
    },
    NameTaken {
        new: &'a str,
    },
    NameOfFile {
        name: &'a str,
    },
    WordOfLanguage {
        name: &'a str,
    },
    DefinedElsewhere {
        name: &'a str,
    },
}

impl Message<'_> {
    /// For the user of the editor.
    pub fn words(self) -> String {
        match self {
            Message::UnknownRequest { method } => format!("headlap does not know the request {method}"),
            Message::Failed => "headlap failed while it answered this request".to_owned(),
            Message::SessionOver => "the session is over".to_owned(),
            Message::Canceled => "this request was canceled".to_owned(),

            Message::TooManyEdges { detail } => format!("{detail} has too many edges to be drawn"),
            Message::NotFormatted => "some lines cannot be read, so the file was not formatted".to_owned(),
            Message::Unchecked => {
                "The settings or rules of this library cannot be used, so this file was not checked.\n\
                                   Correct headlap.toml and the rule files that it names."
                    .to_owned()
            }

            Message::NotAName { new } => {
                format!("\"{new}\" is not a name; expected a letter, then letters, digits, -, _ and .")
            }
            Message::NameTaken { new } => format!("\"{new}\" is already the name of something else here"),
            Message::NameOfFile { name } => format!("{name} is a file; rename the file, then write its new name here"),
            Message::WordOfLanguage { name } => {
                format!("\"{name}\" is a word of the language or of a rule, not a name of this library")
            }
            Message::DefinedElsewhere { name } => {
                format!("\"{name}\" cannot be renamed: it comes with headlap, or nothing here defines it")
            }
        }
    }
}
