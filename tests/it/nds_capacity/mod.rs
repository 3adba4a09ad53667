//! What a fastener carries by NDS 2018, against published numbers and against laws.

mod asked;
mod laws;
mod published;
