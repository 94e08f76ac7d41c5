//! One form of an object, whatever the bytes it was written with: names sorted, numbers plain, streams unpacked,
//! references by the part they lead to.

use lopdf::{Dictionary, Object, ObjectId, Stream};

use super::LARGEST;

/// Objects are not nested deeper than this in a paper.
const DEEPEST: usize = 100;

/// Appends the form of an object. `refer` names what a reference leads to.
pub(super) fn write(
    object: &Object,
    refer: &dyn Fn(ObjectId) -> String,
    into: &mut Vec<u8>,
) -> Result<(), String> {
    any(object, refer, into, 0)
}

fn any(
    object: &Object,
    refer: &dyn Fn(ObjectId) -> String,
    into: &mut Vec<u8>,
    depth: usize,
) -> Result<(), String> {
    if depth > DEEPEST {
        return Err("objects are nested too deeply".into());
    }
    match object {
        Object::Null => into.extend(b"null "),
        Object::Boolean(it) => into.extend(if *it { &b"true "[..] } else { b"false " }),
        Object::Integer(it) => into.extend(format!("{it} ").bytes()),
        Object::Real(it) => real(f64::from(*it), into),
        Object::Name(it) => counted(b'/', it, into),
        Object::String(it, _) => counted(b'(', it, into),
        Object::Reference(id) => counted(b'R', refer(*id).as_bytes(), into),
        Object::Array(items) => {
            into.push(b'[');
            items.iter().try_for_each(|it| any(it, refer, into, depth + 1))?;
            into.push(b']');
        }
        Object::Dictionary(it) => dictionary(it, &[], refer, into, depth)?,
        Object::Stream(it) => stream(it, refer, into, depth)?,
    }
    Ok(())
}

/// A whole number is the same whether it was written with a point or without.
fn real(value: f64, into: &mut Vec<u8>) {
    into.extend(format!("{value} ").bytes());
}

/// A length before the bytes keeps two texts from running into one another.
fn counted(kind: u8, bytes: &[u8], into: &mut Vec<u8>) {
    into.push(kind);
    into.extend(format!("{}:", bytes.len()).bytes());
    into.extend(bytes);
}

fn dictionary(
    members: &Dictionary,
    leave: &[&[u8]],
    refer: &dyn Fn(ObjectId) -> String,
    into: &mut Vec<u8>,
    depth: usize,
) -> Result<(), String> {
    let mut sorted: Vec<(&Vec<u8>, &Object)> = members.iter().collect();
    sorted.retain(|(name, _)| !leave.contains(&name.as_slice()));
    sorted.sort_by(|a, b| a.0.cmp(b.0));
    into.push(b'<');
    for (name, object) in sorted {
        counted(b'/', name, into);
        any(object, refer, into, depth + 1)?;
    }
    into.push(b'>');
    Ok(())
}

fn stream(
    stream: &Stream,
    refer: &dyn Fn(ObjectId) -> String,
    into: &mut Vec<u8>,
    depth: usize,
) -> Result<(), String> {
    // Any other filter stays as it is: a photo's own bytes are what counts.
    let packed = stream.filters().is_ok_and(|it| it == [b"FlateDecode"]) && !stream.dict.has(b"DecodeParms");
    let leave: &[&[u8]] = if packed { &[b"Length", b"Filter"] } else { &[b"Length"] };
    dictionary(&stream.dict, leave, refer, into, depth)?;
    if packed {
        let plain = stream.decompressed_content_with_limit(LARGEST).map_err(|error| error.to_string())?;
        counted(b'S', &plain, into);
    } else {
        counted(b'S', &stream.content, into);
    }
    Ok(())
}
