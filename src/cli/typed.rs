//! What was typed at a shell, and how to type it.

use std::ffi::OsString;
use std::fmt;
use std::path::Path;

use super::CommandError;
use crate::job::Stage;

/// A path as it is typed at a shell: between quotation marks where it needs them.
pub struct Typed<'a>(pub &'a Path);

impl fmt::Display for Typed<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let path = self.0.display().to_string();
        let is_plain = |c: char| c.is_alphanumeric() || "/.-_+,:@\\".contains(c);
        if !path.is_empty() && path.chars().all(is_plain) {
            return f.write_str(&path);
        }
        // The same in a POSIX shell, and in others where there is no `'` in it.
        match path.contains(['"', '$', '`', '\\', '!']) {
            true => write!(f, "'{}'", path.replace('\'', r"'\''")),
            false => write!(f, "\"{path}\""),
        }
    }
}

/// What was probably meant by arguments that are not understood: the stage left out, or put
/// where another command has it.
pub fn slip(args: &[OsString]) -> Option<CommandError> {
    let words: Vec<&str> = args.iter().skip(1).filter_map(|arg| arg.to_str()).collect();
    let (command, rest) = words.split_first()?;
    let plain: Vec<&str> = rest
        .iter()
        .copied()
        .take_while(|word| !word.starts_with('-'))
        .collect();
    let stage = |word: &&str| Stage::of_word(word).is_some();
    let stages = Stage::ALL.map(Stage::word);
    match (*command, plain.as_slice()) {
        ("seal", [folder]) if !stage(folder) => Some(CommandError::told(
            "`seal` was not told what to seal",
            format!(
                "before the work: `retestify seal {} {}`; after it: `retestify seal {} {1}`",
                stages[0],
                Typed(Path::new(folder)),
                stages[1],
            ),
        )),
        ("seal", [only]) => Some(CommandError::told(
            "`seal` was not told which job",
            format!("name its folder: `retestify seal {only} FOLDER`"),
        )),
        ("seal", [folder, word]) if stage(word) => Some(CommandError::told(
            "the stage comes before the folder",
            format!("write `retestify seal {word} {}`", Typed(Path::new(folder))),
        )),
        ("check", [one, other]) if stage(one) || stage(other) => {
            let (word, folder) = if stage(one) {
                (one, other)
            } else {
                (other, one)
            };
            let option = if *word == stages[0] {
                "--baseline "
            } else {
                ""
            };
            Some(CommandError::told(
                "`check` takes the folder only",
                format!(
                    "write `retestify check {option}{}`",
                    Typed(Path::new(folder))
                ),
            ))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_is_quoted_only_where_a_shell_needs_it() {
        for (path, typed) in [
            ("jobs/loader-3", "jobs/loader-3"),
            ("my job", "\"my job\""),
            ("señal", "señal"),
            ("a $ job", "'a $ job'"),
            ("it's", "\"it's\""),
            ("it's $5", r"'it'\''s $5'"),
            ("", "\"\""),
        ] {
            assert_eq!(Typed(Path::new(path)).to_string(), typed);
        }
    }
}
