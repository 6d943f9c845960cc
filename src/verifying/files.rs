//! The files beside a record: it names each with a digest of what is in it.
//!
//! What they hold is not read. They were written from the plan that the record holds, and a digest shows that they
//! still are what was written then: a sheet of another plan, or one that somebody has changed, is found.

use serde_json::Value;
use sha2::{Digest as _, Sha256};

use super::fault::{Fault, Faults, Rule};
use super::{Source, reading};

/// The SHA-256 of `bytes` (FIPS 180-4) in hexadecimal digits.
///
/// ```
/// // The one-block example of FIPS 180-2, appendix B.1.
/// let digest = cutcloth::verifying::digest(b"abc");
/// assert_eq!(digest, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
/// ```
pub fn digest(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Names and digests of the files that a record names; none where that cannot be read.
pub fn files_named(plan_json: &str) -> Vec<(String, String)> {
    let record: Value = serde_json::from_str(plan_json).unwrap_or_default();
    let files = record["files"].as_array().into_iter().flatten();
    files
        .filter_map(|file| Some((file["name"].as_str()?.to_owned(), file["sha256"].as_str()?.to_owned())))
        .collect()
}

/// Checks that `found`, the files of a plan that lie in its folder but for the record, are just those that the record
/// was written with.
pub fn belonging(plan_json: &str, found: &[Source]) -> Vec<Fault> {
    let named = match reading::files(plan_json) {
        Ok(named) => named,
        Err(faults) => return faults,
    };
    let mut faults = Faults::of("");
    for (index, file) in named.iter().enumerate() {
        let place = format!("file {}", file.name);
        if named[..index].iter().any(|other| other.name == file.name) {
            faults.add(Rule::Files, &place, "it is named twice".to_owned());
        }
        match found.iter().find(|found| found.name == file.name) {
            None => faults.add(Rule::Files, &place, "it is not there".to_owned()),
            Some(found) if digest(&found.bytes) != file.sha256 => {
                let message = "it is not the one that was written with this record: it was changed, or is of another plan";
                faults.add(Rule::Files, &place, message.to_owned());
            }
            Some(_) => {}
        }
    }
    for file in found.iter().filter(|file| !named.iter().any(|named| named.name == file.name)) {
        let message = "it was not written with this record".to_owned();
        faults.add(Rule::Files, &format!("file {}", file.name), message);
    }
    faults.into_list()
}
