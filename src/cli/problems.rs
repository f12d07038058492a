//! Problems on the terminal: file, line, what is wrong, what to do.

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};

use crate::intake::{Problem, Problems};

/// The most problems that are shown at once.
const SHOWN: usize = 40;

/// Shows all problems of a job folder on standard error.
pub fn show(faults: &Problems) {
    for fault in faults.iter().take(SHOWN) {
        render(group(fault, faults.text(&fault.file)));
    }
    let count = faults.len();
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

fn group<'a>(fault: &'a Problem, text: Option<&'a str>) -> Group<'a> {
    let group = Level::ERROR.primary_title(&fault.message);
    let group = match (text, &fault.span) {
        (Some(text), Some(span)) => {
            // A span that ends inside a letter, or past the end, cannot be drawn.
            let start = floor(text, span.start);
            let end = floor(text, span.end.max(start)).max(start);
            group.element(
                Snippet::source(text)
                    .path(&fault.file)
                    .annotation(AnnotationKind::Primary.span(start..end)),
            )
        }
        _ => group.element(Origin::path(&fault.file)),
    };
    group.element(Level::HELP.message(&fault.hint))
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
