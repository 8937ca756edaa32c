//! What is built into the program can be handed on: its licenses ask for no more than that their notice goes along, and it comes from the
//! registry in a version that is named.

use std::process::Command;

use serde_json::Value;
use spdx::Expression;

const ACCEPTED: [&str; 10] = [
    "MIT",
    "MIT-0",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "ISC",
    "NCSA",
    "Unicode-3.0",
    "Zlib",
];

#[test]
fn what_is_built_in_comes_from_the_registry_and_can_be_handed_on() {
    let Some(packages) = packages() else { return };
    assert!(packages.len() > 50, "cargo knows {} packages only", packages.len());
    let faults: Vec<String> = packages.iter().filter_map(fault).collect();
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn a_license_that_asks_for_more_is_refused() {
    assert!(accepted("MIT OR GPL-3.0-only") && accepted("(MIT OR Apache-2.0) AND Unicode-3.0"));
    assert!(!accepted("GPL-3.0-only") && !accepted("MIT AND LGPL-3.0-or-later") && !accepted("my own words"));
    let package =
        |source: &str| serde_json::json!({ "name": "a", "version": "1.0.0", "license": "MIT", "source": source });
    assert_eq!(fault(&package("registry+https://github.com/rust-lang/crates.io-index")), None);
    assert!(fault(&package("git+https://example.org/a")).is_some());
}

/// All packages that cargo would build, for any system. Cargo fetches what it has not seen yet; where there is no network it cannot.
fn packages() -> Option<Vec<Value>> {
    let mut cargo = Command::new(env!("CARGO"));
    let output = cargo.args(["metadata", "--format-version", "1", "--locked"]).output().expect("cargo runs");
    if !output.status.success() {
        let why = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(std::env::var_os("HEADLAP_ALL_CHECKS").is_none(), "{why}");
        eprintln!("skipped, since cargo could not list the packages: {why}");
        return None;
    }
    let metadata: Value = serde_json::from_slice(&output.stdout).expect("cargo writes JSON");
    Some(metadata["packages"].as_array().expect("a list of packages").clone())
}

fn fault(package: &Value) -> Option<String> {
    let name = format!("{} {}", package["name"], package["version"]);
    let license = package["license"].as_str().unwrap_or_default();
    // The project's own packages have no source.
    let registry = package["source"].as_str().is_none_or(|source| source.starts_with("registry+"));
    match (accepted(license), registry) {
        (false, _) => Some(format!("{name}: license {license:?}")),
        (_, false) => Some(format!("{name}: comes from {}", package["source"])),
        _ => None,
    }
}

fn accepted(license: &str) -> bool {
    // Older packages separate alternatives by a slash, as cargo allows.
    let license = license.replace('/', " OR ");
    let words = |requirement: &spdx::LicenseReq| ACCEPTED.contains(&requirement.to_string().as_str());
    Expression::parse(&license).is_ok_and(|expression| expression.evaluate(words))
}
