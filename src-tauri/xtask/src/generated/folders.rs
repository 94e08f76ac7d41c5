//! Folders as maps from path to bytes, compared and carried over.

use std::collections::BTreeMap;
use std::fmt;
use std::path::Path;

use crate::failure::Failure;

/// Every file below a folder: path relative to it, with `/` between parts, and content.
pub(crate) type Files = BTreeMap<String, Vec<u8>>;

/// How a committed file differs from the one just made.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Difference {
    pub(crate) path: String,
    kind: Kind,
}

#[derive(Debug, PartialEq, Eq)]
enum Kind {
    Missing,
    Differs,
    Left,
}

impl fmt::Display for Difference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let word = match self.kind {
            Kind::Missing => "is not there yet",
            Kind::Differs => "differs",
            Kind::Left => "is no longer made",
        };
        write!(f, "{} {word}", self.path)
    }
}

/// Makes an empty folder.
///
/// # Errors
/// When an old one cannot be removed or the new one not be made.
pub(crate) fn clear(folder: &Path) -> Result<(), Failure> {
    if folder.exists() {
        std::fs::remove_dir_all(folder).map_err(Failure::at("remove", folder))?;
    }
    std::fs::create_dir_all(folder).map_err(Failure::at("create", folder))
}

/// Reads every file below a folder; one that is not there has no files.
///
/// # Errors
/// When something cannot be read.
pub(crate) fn read(folder: &Path) -> Result<Files, Failure> {
    let mut files = Files::new();
    if folder.exists() {
        read_into(folder, "", &mut files)?;
    }
    Ok(files)
}

fn read_into(folder: &Path, prefix: &str, files: &mut Files) -> Result<(), Failure> {
    for entry in std::fs::read_dir(folder).map_err(Failure::at("list", folder))? {
        let entry = entry.map_err(Failure::at("list", folder))?;
        let path = entry.path();
        let name = format!("{prefix}{}", entry.file_name().to_string_lossy());
        if path.is_dir() {
            read_into(&path, &format!("{name}/"), files)?;
        } else {
            files.insert(name, std::fs::read(&path).map_err(Failure::at("read", &path))?);
        }
    }
    Ok(())
}

/// What would have to change in `committed` to make it `made`, in order of path.
pub(crate) fn differences(made: &Files, committed: &Files) -> Vec<Difference> {
    let mut differences: Vec<Difference> = made
        .iter()
        .filter_map(|(path, bytes)| {
            let kind = match committed.get(path) {
                None => Kind::Missing,
                Some(had) if had != bytes => Kind::Differs,
                Some(_) => return None,
            };
            Some(Difference { path: path.clone(), kind })
        })
        .collect();
    let left = committed.keys().filter(|path| !made.contains_key(*path));
    differences.extend(left.map(|path| Difference { path: path.clone(), kind: Kind::Left }));
    differences.sort_by(|a, b| a.path.cmp(&b.path));
    differences
}

/// Makes `folder` as it was made, touching only what differs.
///
/// # Errors
/// When a file cannot be written or removed.
pub(crate) fn carry_over(differences: &[Difference], made: &Files, folder: &Path) -> Result<(), Failure> {
    for difference in differences {
        let path = folder.join(&difference.path);
        match made.get(&difference.path) {
            Some(bytes) => write(&path, bytes)?,
            None => std::fs::remove_file(&path).map_err(Failure::at("remove", &path))?,
        }
    }
    Ok(())
}

/// Copies every file below one folder into another.
///
/// # Errors
/// When something cannot be read or written.
pub(crate) fn copy(from: &Path, to: &Path) -> Result<(), Failure> {
    read(from)?.iter().try_for_each(|(path, bytes)| write(&to.join(path), bytes))
}

fn write(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).map_err(Failure::at("create", folder))?;
    }
    std::fs::write(path, bytes).map_err(Failure::at("write", path))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn files(named: &[(&str, &str)]) -> Files {
        named.iter().map(|(path, text)| ((*path).to_owned(), text.as_bytes().to_vec())).collect()
    }

    /// A folder of this test's own; two tests never share a name.
    fn scratch(name: &str) -> std::path::PathBuf {
        let folder = std::env::temp_dir().join(format!("xtask-{}-{name}", std::process::id()));
        clear(&folder).unwrap();
        folder
    }

    #[test]
    fn differences_are_named_in_order_of_path() {
        let made = files(&[("a", "1"), ("b/c", "2"), ("d", "3")]);
        let committed = files(&[("a", "1"), ("b/c", "other"), ("e", "4")]);
        let said: Vec<String> = differences(&made, &committed).iter().map(ToString::to_string).collect();
        assert_eq!(said, ["b/c differs", "d is not there yet", "e is no longer made"]);
    }

    #[test]
    fn after_carrying_over_nothing_differs() {
        let folder = scratch("carry");
        write(&folder.join("old/left"), b"x").unwrap();
        write(&folder.join("same"), b"1").unwrap();
        let made = files(&[("same", "1"), ("new/deep/file", "2")]);
        let found = differences(&made, &read(&folder).unwrap());
        assert_eq!(found.len(), 2);
        carry_over(&found, &made, &folder).unwrap();
        assert_eq!(read(&folder).unwrap(), made);
        std::fs::remove_dir_all(&folder).unwrap();
    }

    #[test]
    fn a_copy_has_the_same_files() {
        let (from, to) = (scratch("from"), scratch("to"));
        write(&from.join("a/b"), b"\x00\xff").unwrap();
        copy(&from, &to).unwrap();
        assert_eq!(read(&to).unwrap(), read(&from).unwrap());
        assert_eq!(read(&to).unwrap().len(), 1);
        std::fs::remove_dir_all(&from).unwrap();
        std::fs::remove_dir_all(&to).unwrap();
    }

    #[test]
    fn a_folder_that_is_not_there_has_no_files() {
        assert!(read(Path::new("no/such/folder")).unwrap().is_empty());
    }
}
