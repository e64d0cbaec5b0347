//! Forms that bring a file, whole and in pieces.

use crate::web::floor::multipart::{boundary, read};

const BODY: &[u8] =
    b"--x\r\nContent-Disposition: form-data; name=\"token\"\r\n\r\nabc\r\n--x\r\nContent-Disposition: form-data; \
    name=\"photo\"; filename=\"a\"\r\nContent-Type: image/png\r\n\r\n\x89\r\n-\r\n--y\x00\r\n--x--\r\n";

#[test]
fn a_form_with_a_file_is_taken_apart() {
    let (fields, file) = read(BODY, "x").expect("parts");
    assert_eq!(fields.get("token"), Some("abc"));
    assert_eq!(file.as_deref(), Some(&b"\x89\r\n-\r\n--y\x00"[..]));
}

#[test]
fn what_is_cut_off_anywhere_is_no_form() {
    for end in 0..BODY.len() - 4 {
        assert!(read(BODY.get(..end).expect("a part"), "x").is_none(), "up to {end}");
    }
    assert!(read(BODY, "y").is_none());
    let many = b"--x\r\nContent-Disposition: form-data; name=\"a\"\r\n\r\n\r\n".repeat(40);
    assert!(read(&many, "x").is_none());
}

#[test]
fn a_file_nobody_chose_is_none() {
    let body = b"--x\r\nContent-Disposition: form-data; name=\"photo\"; filename=\"\"\r\n\r\n\r\n--x--";
    assert_eq!(read(body, "x").expect("parts").1, None);
}

#[test]
fn a_boundary_is_read_and_bounded() {
    assert_eq!(boundary(b"multipart/form-data; boundary=abc"), Some("abc".into()));
    assert_eq!(boundary(b"Multipart/Form-Data; charset=x; boundary=\"abc\""), Some("abc".into()));
    let long = format!("multipart/form-data; boundary={}", "a".repeat(71));
    for odd in ["multipart/mixed; boundary=abc", "multipart/form-data", "multipart/form-data; boundary=", &long] {
        assert_eq!(boundary(odd.as_bytes()), None, "{odd}");
    }
}
