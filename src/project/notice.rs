//! What the project notes of settings, for outputs to show.

/// A remark that no finding carries. The code that makes it builds the variant; its wording is here.
#[derive(Clone, Copy, Debug)]
pub enum Notice<'a> {
    /// Settings that a submittal brings.
    SettingsUnreadable { name: &'a str },
    /// Why a rule is off that no setting switches off.
    LaterThanEdition { edition: &'a str },
}

impl Notice<'_> {
    /// On one line.
    pub fn words(&self) -> String {
        match *self {
            Notice::SettingsUnreadable { name } => format!("{name}: these settings cannot be read"),
            Notice::LaterThanEdition { edition } => {
                format!("it was added after edition {edition} of the stock rules, which the settings pin")
            }
        }
    }
}
