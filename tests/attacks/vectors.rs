//! Signature and hash against the vectors their standards publish.

use trowelogue_testkit::trowelogue_core::id::Hash;
use trowelogue_testkit::trowelogue_journal::keys::SecretKey;

fn bytes(hex: &str) -> Vec<u8> {
    let digits: Vec<u8> =
        hex.bytes().filter_map(|it| char::from(it).to_digit(16)).map(|it| it as u8).collect();
    digits.chunks(2).map(|pair| pair[0] << 4 | pair[1]).collect()
}

fn base64url(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
    let mut text = String::new();
    for part in bytes.chunks(3) {
        let word =
            part.iter().fold(0u32, |word, byte| word << 8 | u32::from(*byte)) << (8 * (3 - part.len()));
        text.extend((0..=part.len()).map(|at| char::from(LETTERS[(word >> (18 - 6 * at)) as usize & 63])));
    }
    text
}

/// RFC 8032, section 7.1, tests 1 to 3: secret key, public key, message, signature.
const ED25519: [[&str; 4]; 3] = [
    [
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
        "",
        "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e06522490155\
         5fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
    ],
    [
        "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        "72",
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da\
         085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
    ],
    [
        "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
        "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
        "af82",
        "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac\
         18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
    ],
];

#[test]
fn signatures_are_those_of_rfc_8032() {
    for [secret, public, message, signature] in ED25519 {
        let key = SecretKey::from_seed(&bytes(secret).try_into().unwrap());
        let (message, signature) = (bytes(message), base64url(&bytes(signature)));
        assert_eq!(key.public().bytes().to_vec(), bytes(public));
        assert_eq!(key.sign(b"", &message), signature);
        assert!(key.public().verify(b"", &message, &signature));
        assert!(!key.public().verify(b"x", &message, &signature));
    }
}

/// RFC 8032, section 8.4: a verifier must refuse the second form of a signature, with S + L in the place of S.
#[test]
fn a_signature_has_one_form_only() {
    const ORDER: [u8; 32] = [
        0xed, 0xd3, 0xf5, 0x5c, 0x1a, 0x63, 0x12, 0x58, 0xd6, 0x9c, 0xf7, 0xa2, 0xde, 0xf9, 0xde, 0x14, 0, 0,
        0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0x10,
    ];
    let [secret, _, message, signature] = ED25519[1];
    let key = SecretKey::from_seed(&bytes(secret).try_into().unwrap()).public();
    let mut second = bytes(signature);
    let mut carry = 0;
    for (byte, more) in second[32..].iter_mut().zip(ORDER) {
        let sum = u16::from(*byte) + u16::from(more) + carry;
        (*byte, carry) = (sum as u8, sum >> 8);
    }
    assert!(!key.verify(b"", &bytes(message), &base64url(&second)));
}

/// FIPS 180-4, the examples of SHA-256: one block, two blocks, and the million letters of FIPS 180-2, B.3.
#[test]
fn hashes_are_those_of_fips_180() {
    let two = "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq";
    let million = "a".repeat(1_000_000);
    for (message, digest) in [
        ("abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
        (two, "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"),
        (million.as_str(), "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"),
    ] {
        assert_eq!(Hash::of(&[message.as_bytes()]).to_string(), digest);
    }
}
