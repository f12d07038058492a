//! Problems on the terminal: file, line, what is wrong, what to do.

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};

use crate::intake::{Problem, Problems};

/// The most problems that are shown at once.
const SHOWN: usize = 40;

/// Shows all problems of a job folder on standard error.
pub fn show(problems: &Problems) {
    for problem in problems.iter().take(SHOWN) {
        render(group(problem, problems.text(&problem.file)));
    }
    let count = problems.len();
    let more = if count > SHOWN {
        format!("; the first {SHOWN} are shown")
    } else {
        String::new()
    };
    let problems = if count == 1 { "problem" } else { "problems" };
    anstream::eprintln!("{count} {problems} in the job folder{more}. Nothing was written.");
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
