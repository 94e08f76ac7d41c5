//! Lockboxes, keys, and bodies under them.

#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;

const ENTRY: &str = "{\"v\":1,\"device\":\"a\"}";
const BODY: &str = "{\"salt\":\"AAAAAAAAAAAAAAAAAAAAAA\",\"text\":\"ñ\"}";

#[test]
fn a_body_opens_with_its_key_and_its_entry_alone() {
    let (lockbox, key) = Lockbox::new("eight characters", [7; 16], &Keyring::default()).unwrap();
    let sealed = key.seal_body(ENTRY, BODY).unwrap();
    assert_eq!(sealed, key.seal_body(ENTRY, BODY).unwrap(), "publishing again gives the same bytes");
    assert_eq!(sealed.len(), sealed_len(BODY.len()));
    assert!(!sealed.contains("text"));
    assert_eq!(key.open_body(ENTRY, &sealed).as_deref(), Some(BODY));
    assert_eq!(key.open_body("{\"v\":1}", &sealed), None, "another entry");
    let mut changed = sealed.into_bytes();
    changed[40] ^= 1;
    assert_eq!(key.open_body(ENTRY, &String::from_utf8(changed).unwrap()), None);
    assert_eq!(key.open_body(ENTRY, "{\"x\":\"\"}"), None);
    let (again, _) = lockbox.open(" eight characters\n").unwrap();
    assert!(again == key, "white space at the ends does not matter");
    assert_eq!(lockbox.open("nine characters").unwrap_err(), Shut::Wrong);
}

#[test]
fn a_new_passphrase_hands_on_the_keys_before_it() {
    let (_, first) = Lockbox::new("the first one", [1; 16], &Keyring::default()).unwrap();
    let mut ring = Keyring::default();
    ring.take(Hash([1; 32]), first.clone());
    let (second, _) = Lockbox::new("the second one", [2; 16], &ring).unwrap();
    let (_, earlier) = second.open("the second one").unwrap();
    let sealed = first.seal_body(ENTRY, BODY).unwrap();
    assert_eq!(earlier.open_body(ENTRY, &sealed).as_deref(), Some(BODY));
    assert_eq!(Keyring::read(ring.write().as_bytes()).unwrap(), ring);
}

#[test]
fn a_lockbox_that_asks_for_all_memory_is_refused() {
    let (lockbox, _) = Lockbox::new("eight characters", [7; 16], &Keyring::default()).unwrap();
    for hostile in [
        Lockbox { memory_kib: u32::MAX, ..lockbox.clone() },
        Lockbox { passes: u32::MAX, ..lockbox.clone() },
        Lockbox { lanes: 0, ..lockbox.clone() },
        Lockbox { key_salt: "../..".into(), ..lockbox },
    ] {
        assert_eq!(hostile.open("eight characters").unwrap_err(), Shut::Form);
    }
}

#[test]
fn a_photo_is_bound_to_its_name() {
    let (_, key) = Lockbox::new("eight characters", [7; 16], &Keyring::default()).unwrap();
    let (one, two) = (Hash([1; 32]), Hash([2; 32]));
    let sealed = key.seal_photo(&one, b"picture").unwrap();
    assert_eq!(key.open_photo(&one, &sealed).as_deref(), Some(b"picture".as_slice()));
    assert_eq!(key.open_photo(&two, &sealed), None);
    assert_ne!(key.photo_name(&one), one);
}

/// The cipher against draft-irtf-cfrg-xchacha-03, appendix A.3.1 (the vector is repeated from there).
#[test]
fn the_cipher_is_the_published_one() {
    let key: [u8; 32] = std::array::from_fn(|at| 0x80 + at as u8);
    let nonce: [u8; 24] = std::array::from_fn(|at| 0x40 + at as u8);
    let aad = [0x50, 0x51, 0x52, 0x53, 0xc0, 0xc1, 0xc2, 0xc3, 0xc4, 0xc5, 0xc6, 0xc7];
    let plain = "Ladies and Gentlemen of the class of '99: If I could offer you only one tip for the future, \
                 sunscreen would be it.";
    let sealed =
        cipher(&key).encrypt(&XNonce::from(nonce), Payload { msg: plain.as_bytes(), aad: &aad }).unwrap();
    let start = [0xbd, 0x6d, 0x17, 0x9d, 0x3e, 0x83, 0xd4, 0x3b];
    let tag =
        [0xc0, 0x87, 0x59, 0x24, 0xc1, 0xc7, 0x98, 0x79, 0x47, 0xde, 0xaf, 0xd8, 0x78, 0x0a, 0xcf, 0x49];
    assert_eq!((&sealed[..8], &sealed[sealed.len() - 16..]), (&start[..], &tag[..]));
}

/// Argon2id against RFC 9106, section 5.3, without secret and associated data, which the vector has and this
/// program does not use: the library's own answer to the full vector is checked by the library. Here the
/// parameters are: another amount of memory, another pass, another salt give another key.
#[test]
fn every_parameter_of_the_key_matters() {
    let (lockbox, key) = Lockbox::new("eight characters", [7; 16], &Keyring::default()).unwrap();
    for other in [
        Lockbox { memory_kib: MEMORY_KIB / 2, ..lockbox.clone() },
        Lockbox { passes: PASSES + 1, ..lockbox.clone() },
        Lockbox { key_salt: keys::encode(&[8; 16]), ..lockbox },
    ] {
        assert!(other.key("eight characters").unwrap() != key);
    }
}
