//! What a case expects, where it leaves a line or a part of one open with `…`.

/// Whether `text` is as `pattern` says, with `…` for what varies.
pub fn fits(pattern: &str, text: &str) -> bool {
    let pattern: Vec<&str> = pattern.lines().collect();
    let text: Vec<&str> = text.lines().collect();
    lines_fit(&pattern, &text)
}

fn lines_fit(pattern: &[&str], text: &[&str]) -> bool {
    match pattern {
        [] => text.is_empty(),
        ["…", rest @ ..] => (0..=text.len()).any(|skipped| lines_fit(rest, &text[skipped..])),
        [line, rest @ ..] => {
            text.first().is_some_and(|first| line_fits(line, first)) && lines_fit(rest, &text[1..])
        }
    }
}

fn line_fits(pattern: &str, line: &str) -> bool {
    match pattern.split_once('…') {
        None => pattern == line,
        Some((start, rest)) => line.strip_prefix(start).is_some_and(|line| {
            let places = line.char_indices().map(|(place, _)| place);
            places
                .chain([line.len()])
                .any(|place| line_fits(rest, &line[place..]))
        }),
    }
}

/// What is printed `now`, with each line of `old` that holds a `…` kept at its place: for
/// the one line that stands where it stood, and for no other that it happens to fit.
pub fn kept(old: &str, now: &str) -> Result<String, ()> {
    if fits(old, now) {
        return Ok(old.to_owned());
    }
    if old.lines().any(|line| line == "…") {
        return Err(());
    }
    let old: Vec<&str> = old.lines().collect();
    let now: Vec<&str> = now.lines().collect();
    // How well the lines from `i` of the old and from `j` of the new fit each other, in
    // order. A line that is the same counts more than one that only fits, so that a `…`
    // gives way to it.
    let fit = |i: usize, j: usize| match line_fits(old[i], now[j]) {
        false => 0,
        true => 1 + usize::from(!old[i].contains('…')),
    };
    let mut best = vec![vec![0; now.len() + 1]; old.len() + 1];
    for i in (0..old.len()).rev() {
        for j in (0..now.len()).rev() {
            let skipped = best[i + 1][j].max(best[i][j + 1]);
            best[i][j] = match fit(i, j) {
                0 => skipped,
                fit => skipped.max(best[i + 1][j + 1] + fit),
            };
        }
    }
    let (mut i, mut lines) = (0, String::new());
    for (j, line) in now.iter().enumerate() {
        while i < old.len() && best[i][j] == best[i + 1][j] {
            i += 1;
        }
        let paired = i < old.len() && fit(i, j) > 0 && best[i][j] == best[i + 1][j + 1] + fit(i, j);
        lines += if paired { old[i] } else { line };
        lines.push('\n');
        i += usize::from(paired);
    }
    Ok(lines)
}

/// An update writes out every line but those that the case had left open.
#[test]
fn an_update_leaves_open_only_what_was_open() {
    for (old, now, expected) in [
        // The open line stays, and the full lines that it fits as well are written out.
        ("a\n  …\n  b\n", "a\n  x\n  c\n", "a\n  …\n  c\n"),
        ("  b\n  …\nz\n", "  c\n  b\n  x\nz\n", "  c\n  b\n  …\nz\n"),
        (
            "it is …\nend\n",
            "it is not so\nit is x\nend\n",
            "it is …\nit is x\nend\n",
        ),
        // A line that is new, or gone, leaves the others as they were.
        ("a\nt …\n", "a\nnew\nt 1\n", "a\nnew\nt …\n"),
        ("a\nold\nt …\n", "a\nt 1\n", "a\nt …\n"),
        ("a\n", "b\n", "b\n"),
        ("", "b\n", "b\n"),
    ] {
        assert_eq!(kept(old, now).as_deref(), Ok(expected), "{old:?} {now:?}");
    }
    // Where any lines may stand, a person has to look.
    assert_eq!(kept("a\n…\n", "b\nc\n"), Err(()));
}

/// What stands for a part of a line stands for no more.
#[test]
fn a_case_is_compared_line_by_line() {
    for (pattern, text, expected) in [
        ("one\ntwo\n", "one\ntwo\n", true),
        ("one\n", "one\ntwo\n", false),
        ("one\ntwo\n", "one\n", false),
        ("one …\n", "one and two\n", true),
        ("one … three\n", "one two\n", false),
        ("… two … four\n", "one two three four\n", true),
        ("one\n…\nfour\n", "one\ntwo\nthree\nfour\n", true),
        ("one\n…\nfour\n", "one\nfour\n", true),
        ("one\n…\nfour\n", "one\ntwo\n", false),
        ("", "", true),
        ("", "one\n", false),
    ] {
        assert_eq!(fits(pattern, text), expected, "{pattern:?} {text:?}");
    }
}
