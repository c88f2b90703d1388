//! Drawings within the page: ids of their own for the wide and the narrow one, and their words for who sees neither.

use super::html::escaped;
use toothsayer_figures::Figure;

/// The drawing with `variant` before every id.
pub(crate) fn drawing(figure: &Figure, variant: &str) -> String {
    let Some(id) = id(&figure.svg) else { return figure.svg.clone() };
    let mut svg = figure.svg.clone();
    // Ids stand behind a quote, in a list of ids behind a space, in references behind a number sign, in rules behind
    // the name of an animation.
    for before in ["\"", " ", "#", ":", "@keyframes "] {
        svg = svg.replace(&format!("{before}{id}-"), &format!("{before}{variant}-{id}-"));
    }
    svg
}

/// The id that stands before every other one: that of the title without its end.
fn id(svg: &str) -> Option<String> {
    let end = svg.find("-title\"")?;
    let begin = svg[..end].rfind(['"', ' '])? + 1;
    Some(svg[begin..end].to_owned())
}

/// What is to be seen, in words, behind a fold.
pub(crate) fn told(figure: &Figure) -> String {
    format!(
        "<details>\n<summary>This drawing in words</summary>\n<p>{}</p>\n</details>\n",
        escaped(&figure.description)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_and_what_refers_to_them_are_renamed_together() {
        let svg = "<svg aria-labelledby=\"bay-title bay-description\"><title id=\"bay-title\">bay</title>\
                   <style>@keyframes bay-turn{}#bay-turn{animation:bay-turn 1s}</style><g id=\"bay-turn\"/>\
                   <path fill=\"url(#bay-hatch)\"/></svg>";
        let figure =
            Figure { svg: svg.into(), width_px: 1.0, height_px: 1.0, title: String::new(), description: String::new() };
        let expected = svg.replace("bay-", "wide-bay-");
        assert_eq!(drawing(&figure, "wide"), expected);
    }
}
