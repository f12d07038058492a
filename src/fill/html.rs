//! Writing HTML: what comes from files is always escaped.

/// A piece of HTML.
#[derive(Debug, Default, Clone)]
pub struct Html(String);

/// Text as HTML shows it.
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out += "&amp;",
            '<' => out += "&lt;",
            '>' => out += "&gt;",
            '"' => out += "&quot;",
            '\'' => out += "&#39;",
            other => out.push(other),
        }
    }
    out
}

impl Html {
    /// Nothing yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds markup of the program itself.
    pub fn raw(&mut self, markup: &str) -> &mut Self {
        self.0 += markup;
        self
    }

    /// Adds text.
    pub fn text(&mut self, text: &str) -> &mut Self {
        self.0 += &escaped(text);
        self
    }

    /// Adds another piece.
    pub fn add(&mut self, other: &Html) -> &mut Self {
        self.0 += &other.0;
        self
    }

    /// Opens a tag with attributes; one whose value is empty stands alone where it is a
    /// switch, such as `required`.
    pub fn open(&mut self, tag: &str, attributes: &[(&str, &str)]) -> &mut Self {
        self.0.push('<');
        self.0 += tag;
        for (name, value) in attributes {
            self.0.push(' ');
            self.0 += name;
            self.0 += "=\"";
            self.0 += &escaped(value);
            self.0.push('"');
        }
        self.0.push('>');
        self
    }

    /// Closes a tag.
    pub fn close(&mut self, tag: &str) -> &mut Self {
        self.0 += "</";
        self.0 += tag;
        self.0.push('>');
        self
    }

    /// Adds a whole element with text in it; nothing where the text is empty.
    pub fn element(&mut self, tag: &str, attributes: &[(&str, &str)], text: &str) -> &mut Self {
        if text.is_empty() {
            return self;
        }
        self.open(tag, attributes).text(text).close(tag)
    }

    /// The markup.
    pub fn into_string(self) -> String {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_comes_from_files_stays_text() {
        let mut html = Html::new();
        html.element("p", &[("title", "\"><script>")], "<b> & 'more'");
        assert_eq!(
            html.into_string(),
            "<p title=\"&quot;&gt;&lt;script&gt;\">&lt;b&gt; &amp; &#39;more&#39;</p>"
        );
    }
}
