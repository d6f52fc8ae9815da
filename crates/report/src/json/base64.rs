//! Bytes as text: base64 with padding, RFC 4648, section 4.

const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/// Bytes as text.
pub(super) fn write(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let at = |n: usize| u32::from(three.get(n).copied().unwrap_or(0));
        let bits = at(0) << 16 | at(1) << 8 | at(2);
        for n in 0..4 {
            let letter = LETTERS[(bits >> (18 - 6 * n)) as usize & 63];
            text.push(if n <= three.len() { char::from(letter) } else { '=' });
        }
    }
    text
}

/// The bytes of a text; `None` where it is none of [`write`].
pub(super) fn read(text: &str) -> Option<Vec<u8>> {
    let letters = text.trim_end_matches('=').as_bytes();
    if !text.len().is_multiple_of(4) || text.len() - letters.len() > 2 {
        return None;
    }
    let mut bytes = Vec::with_capacity(text.len() / 4 * 3);
    for four in letters.chunks(4) {
        let mut bits = 0;
        for n in 0..4 {
            let six = match four.get(n) {
                Some(letter) => LETTERS.iter().position(|own| own == letter)?,
                None => 0,
            };
            bits = bits << 6 | six;
        }
        let three = [16, 8, 0].map(|shift| u8::try_from(bits >> shift & 255).unwrap_or(0));
        bytes.extend_from_slice(three.get(..four.len().checked_sub(1)?)?);
    }
    (write(&bytes) == text).then_some(bytes)
}

#[cfg(test)]
mod tests {
    use super::{read, write};

    #[test]
    fn as_the_standard_writes_it() {
        // RFC 4648, section 10.
        let examples = [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ];
        for (bytes, text) in examples {
            assert_eq!(write(bytes.as_bytes()), text);
            assert_eq!(read(text).as_deref(), Some(bytes.as_bytes()));
        }
        let all: Vec<u8> = (0..=255).collect();
        assert_eq!(read(&write(&all)), Some(all));
        for text in ["Z", "Zg", "Zg=", "Zh==", "Z===", "====", "Zm9v Zm9", "Zm9v\n", "é==="] {
            assert_eq!(read(text), None, "{text}");
        }
    }
}
