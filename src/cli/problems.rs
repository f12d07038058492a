//! Problems on the terminal: file, line, what is wrong, what to do; and what comes next.

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};

use std::collections::BTreeMap;

use crate::intake::{Problem, Problems, SHOP_FILE, State};
use crate::job::JobFile;

/// The most problems that are shown at once.
const SHOWN: usize = 40;

/// Shows all problems of a job folder on standard error: what is wrong, and then what is only
/// not filled in yet, as a list of what comes next.
pub fn show(problems: &Problems) {
    let wrong = problems
        .iter()
        .filter(|problem| problem.state == State::Wrong);
    for problem in wrong.take(SHOWN) {
        render(group(problem, problems.text(&problem.file)));
    }
    let blanks: Vec<&Problem> = problems
        .iter()
        .filter(|problem| problem.state == State::NotFilledIn)
        .collect();
    let count = problems.len() - blanks.len();
    if count > 0 {
        let more = if count > SHOWN {
            format!("; the first {SHOWN} are shown")
        } else {
            String::new()
        };
        let problems = if count == 1 { "problem" } else { "problems" };
        anstream::eprintln!("{count} {problems} in the job folder{more}. Nothing was written.");
    }
    if !blanks.is_empty() {
        if count > 0 {
            anstream::eprintln!();
        }
        anstream::eprint!("{}", next(problems, &blanks, count > 0));
    }
}

/// The files in the order in which they are filled in.
fn in_working_order() -> impl Iterator<Item = &'static str> {
    let job = JobFile::ALL.into_iter().map(JobFile::name);
    std::iter::once(SHOP_FILE).chain(job)
}

/// What comes next: the blanks of the first file that has any, then how much is left in the
/// others.
fn next(problems: &Problems, blanks: &[&Problem], something_is_wrong: bool) -> String {
    let mut of_file: BTreeMap<&str, Vec<&Problem>> = BTreeMap::new();
    for blank in blanks {
        of_file.entry(&blank.file).or_default().push(blank);
    }
    let mut text = String::new();
    let mut later = Vec::new();
    for file in in_working_order() {
        let Some(blanks) = of_file.get(file) else {
            continue;
        };
        if !text.is_empty() {
            later.push(left(problems, file, blanks.len()));
            continue;
        }
        text = format!("Next: {}\n\n", left(problems, file, blanks.len()));
        for blank in blanks {
            let place = match problems.line(blank) {
                Some(line) => format!("{file}:{line}"),
                None => file.to_owned(),
            };
            text += &indented(&format!("{place}: {}", blank.message), "  ");
            text += &indented(&blank.hint, "      ");
        }
    }
    if !later.is_empty() {
        text += "\nThen:\n";
        text.extend(later.iter().map(|line| indented(line, "  ")));
    }
    if !something_is_wrong {
        text += "\nNothing is wrong so far; nothing was written.\n";
    }
    text
}

/// How much is left to fill in in a file; of readings, how many there are.
fn left(problems: &Problems, file: &str, blanks: usize) -> String {
    match problems.progress(file) {
        Some((taken, planned)) if taken < planned => {
            format!("{file}, {taken} of {planned} readings")
        }
        _ => format!("{file}, {blanks} to fill in"),
    }
}

fn indented(text: &str, by: &str) -> String {
    let options = textwrap::Options::new(80)
        .initial_indent(by)
        .subsequent_indent(by)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    textwrap::fill(text, options) + "\n"
}

/// Shows one message that belongs to no line of a file.
pub fn show_one(message: &str, hint: &str) {
    render(
        Level::ERROR
            .primary_title(message)
            .element(Level::HELP.message(hint)),
    );
}

fn group<'a>(problem: &'a Problem, text: Option<&'a str>) -> Group<'a> {
    let group = Level::ERROR.primary_title(&problem.message);
    let group = match (text, &problem.span) {
        (Some(text), Some(span)) => {
            // A span that ends inside a letter, or past the end, cannot be drawn.
            let start = floor(text, span.start);
            let end = floor(text, span.end.max(start)).max(start);
            group.element(
                Snippet::source(text)
                    .path(&problem.file)
                    .annotation(AnnotationKind::Primary.span(start..end)),
            )
        }
        _ => group.element(Origin::path(&problem.file)),
    };
    group.element(Level::HELP.message(&problem.hint))
}

fn floor(text: &str, mut index: usize) -> usize {
    index = index.min(text.len());
    while !text.is_char_boundary(index) {
        index -= 1;
    }
    index
}

fn render(group: Group<'_>) {
    let renderer = Renderer::styled()
        .term_width(80)
        .decor_style(DecorStyle::Ascii);
    anstream::eprintln!("{}\n", renderer.render(&[group]));
}
