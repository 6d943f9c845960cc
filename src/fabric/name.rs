//! The one form that spellings of a cut are compared in.

/// `text` in lower case, without hyphens, inch signs, plurals and filler words, its numbers in digits and
/// fractions: `Ten-Inch Squares`, `10" sq` and `10 in. square` all become `10 square`.
pub(super) fn canonical(text: &str) -> String {
    let mut spaced = String::new();
    let mut before = ' ';
    let signs: Vec<char> = text.trim().to_lowercase().chars().collect();
    for (index, &sign) in signs.iter().enumerate() {
        let after = signs.get(index + 1).copied().unwrap_or(' ');
        let inside_number = before.is_ascii_digit() && after.is_ascii_digit();
        let spelled = match sign {
            '½' => " 1/2 ",
            '¼' => " 1/4 ",
            '¾' => " 3/4 ",
            '⅓' => " 1/3 ",
            '⅛' => " 1/8 ",
            '\u{d7}' => " x ",
            '\u{2044}' => "/",
            '.' | ',' if inside_number => ".",
            // `f.q.` is one word.
            '.' if before.is_alphabetic() => "",
            '/' if inside_number => "/",
            c if c.is_alphanumeric() => {
                if (before.is_ascii_digit() && c.is_alphabetic()
                    || before.is_alphabetic() && c.is_ascii_digit())
                    && !(before == 'f' && c == '8')
                {
                    spaced.push(' ');
                }
                spaced.push(c);
                before = c;
                continue;
            }
            _ => " ",
        };
        spaced.push_str(spelled);
        before = sign;
    }
    let spaced = spaced.replace("off cut", "offcut");
    let words: Vec<&str> = spaced.split_whitespace().filter_map(word).collect();
    let joined = words.join(" ").replace("2 and 1/2", "2 1/2").replace("2 and half", "2 1/2");
    joined.replace("8 eighth", "eighth")
}

/// One word in its common form; `None` for a word that says nothing.
fn word(word: &str) -> Option<&str> {
    Some(match word {
        "a" | "an" | "the" | "of" | "in" | "ins" | "inch" | "inches" | "cut" | "cuts" | "precut" | "pre"
        | "fabric" => {
            return None;
        }
        "sq" | "sqr" | "sqs" | "squares" => "square",
        "strips" => "strip",
        "fq" | "fqs" => "fat quarter",
        "f8" | "f8s" | "fe" => "fat eighth",
        "qtr" | "qtrs" | "quarters" => "quarter",
        "th" | "ths" | "eighths" => "eighth",
        "halves" => "half",
        "yd" | "yds" | "yards" | "yrd" => "yard",
        "ten" | "10.0" => "10",
        "five" | "5.0" => "5",
        "two" => "2",
        "2.5" => "2 1/2",
        "0.5" => "1/2",
        "0.25" => "1/4",
        other => other,
    })
}
