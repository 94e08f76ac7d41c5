//! New ids: UUID version 7, from the clock passed in and the system's random bytes (RFC 9562, 5.7).

use trowelogue_core::id::ObjectId;
use trowelogue_core::moment::Moment;

use crate::{ApiError, ErrorCode, Result};

/// A new id.
pub(crate) fn new_id(now: &Moment) -> Result<ObjectId> {
    let mut random = [0; 10];
    getrandom::fill(&mut random).map_err(|error| {
        ApiError::new(ErrorCode::Io, format!("the system gives no random bytes: {error}"))
    })?;
    let ms = u64::try_from(now.timestamp_millis()).unwrap_or(0);
    Ok(ObjectId(uuid::Builder::from_unix_timestamp_millis(ms, &random).into_uuid()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_are_of_version_7_carry_the_clock_and_differ() {
        let now = trowelogue_core::moment::parse("2025-03-04T10:20:00-06:00").expect("a moment");
        let (one, two) = (new_id(&now).expect("an id"), new_id(&now).expect("an id"));
        assert_ne!(one, two);
        assert_eq!(one.0.get_version_num(), 7);
        assert_eq!(one.to_string()[..13], two.to_string()[..13]);
    }
}
