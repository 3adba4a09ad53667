//! The numbers and the short texts of a joint file, each with its limits in its schema.
//!
//! The limits are far beyond anything that is built and far below anything that would cost
//! exactness: within a kilometre of the origin an f64 still tells a ten-millionth of a millimetre.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Serialize, Serializer};

/// Defines a number with its limits. The words go into the schema and into every refusal.
macro_rules! measure {
    ($name:ident, $least:expr, $most:expr, $words:literal) => {
        #[doc = concat!("A number of a joint file: ", $words, ".")]
        #[derive(Clone, Copy, Debug, Default, PartialEq, Deserialize)]
        pub(super) struct $name(pub(super) f64);

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                number(self.0, serializer)
            }
        }

        impl JsonSchema for $name {
            fn schema_name() -> Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                let (least, most): (f64, f64) = ($least, $most);
                json_schema!({ "type": "number", "minimum": least, "maximum": most, "description": $words })
            }
        }
    };
}

measure!(Coordinate, -1e6, 1e6, "a coordinate in millimetres, from -1,000,000 to 1,000,000");
measure!(Size, 1e-3, 1e6, "a size in millimetres, from 0.001 to 1,000,000");
measure!(Length, 0.0, 1e6, "a length in millimetres, from 0 to 1,000,000");
measure!(Turn, -360.0, 360.0, "degrees anticlockwise, from -360 to 360");
measure!(Lean, -89.0, 89.0, "degrees from square to the steel, anticlockwise, from -89 to 89");
measure!(Direction, -1e6, 1e6, "a part of a direction, from -1,000,000 to 1,000,000");
measure!(Force, 0.0, 1e9, "newtons, from 0 to 1,000,000,000");
measure!(Strength, 1e-3, 1e4, "a strength in N/mm2, from 0.001 to 10,000");
measure!(Gravity, 1e-3, 30.0, "a specific gravity, from 0.001 to 30");
measure!(Density, 1e-3, 3e4, "a density in kg/m3, from 0.001 to 30,000");
measure!(Share, 0.0, 1.0, "a share of an edge, from 0 to 1");
measure!(Partial, 1.0, 10.0, "a partial factor, from 1 to 10");
measure!(Scale, 1e-3, 1e4, "model millimetres to one paper millimetre, from 0.001 to 10,000");

/// Writes a whole number without a needless `.0`; zero keeps its sign.
fn number<S: Serializer>(value: f64, serializer: S) -> Result<S::Ok, S::Error> {
    let minus_zero = value == 0.0 && value.is_sign_negative();
    if value.fract() == 0.0 && value.abs() < 1e15 && !minus_zero {
        #[expect(clippy::cast_possible_truncation, reason = "a whole number below 1e15 fits an i64")]
        serializer.serialize_i64(value as i64)
    } else {
        serializer.serialize_f64(value)
    }
}
