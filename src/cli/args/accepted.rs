//! What was accepted: known findings, waivers, adjusted rules.

use std::path::PathBuf;

use clap::Subcommand;

/// List, add to, and prune the list of known findings.
#[derive(clap::Args)]
pub struct Known {
    #[command(subcommand)]
    pub action: KnownAction,
}

#[derive(Subcommand)]
pub enum KnownAction {
    /// List the known findings.
    List(KnownList),
    /// Add the findings of these paths that are not on the list yet.
    Add {
        #[command(flatten)]
        run: KnownRun,
        /// Add only findings of this rule; repeat it for several rules.
        #[arg(long, value_name = "RULE")]
        rule: Vec<String>,
        /// Say why they are accepted.
        #[arg(long, value_name = "REASON")]
        because: Option<String>,
        /// Say who accepts them.
        #[arg(long, value_name = "NAME")]
        by: Option<String>,
    },
    /// Take findings off the list that no longer occur in these paths, and follow renamed files and details.
    Prune(KnownRun),
}

/// List every exception: waivers, adjusted rules and known findings, with reason, author and days left.
///
/// Exit status: 1 with --warn-before when a waiver ends within that time or has ended.
#[derive(clap::Args)]
pub struct Exceptions {
    /// Files, or folders to search for *.detail files.
    #[arg(value_name = "PATH", default_value = ".")]
    pub paths: Vec<PathBuf>,
    /// Set the output format: text for people, json for programs.
    #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "json"])]
    pub format: String,
    /// Warn of waivers that end within this time, such as "30 days", and exit with status 1.
    #[arg(long, value_name = "TIME")]
    pub warn_before: Option<String>,
}

#[derive(clap::Args)]
pub struct KnownList {
    /// Use this list instead of the one that headlap.toml names.
    #[arg(long, value_name = "FILE")]
    pub known: Option<PathBuf>,
}

#[derive(clap::Args)]
pub struct KnownRun {
    /// Files, or folders to search for *.detail files. Default: the current folder.
    #[arg(value_name = "PATH")]
    pub paths: Vec<PathBuf>,
    /// Use this list instead of the one that headlap.toml names.
    #[arg(long, value_name = "FILE")]
    pub known: Option<PathBuf>,
}
