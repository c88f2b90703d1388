//! The interface described by itself (OpenAPI 3.1), made from the functions that answer and the types that they take.

use crate::interface::problem::Problem;
use crate::interface::{findings, jobs, verdict};
use crate::operation::metrics;
use axum::Json;
use utoipa::openapi::security::{HttpAuthScheme, HttpBuilder, SecurityScheme};
use utoipa::openapi::{
    ContentBuilder, OpenApi as Description, RefOr, ResponseBuilder, path::Operation, path::PathItem,
};
use utoipa::{Modify, OpenApi};

#[derive(OpenApi)]
#[openapi(
    info(title = "Toothsayer", description = "A shop's jobs for programs. Verdicts are in SI units, the unit at the end of each key."),
    paths(
        show, jobs::list, jobs::take_in, jobs::one, jobs::file, findings::list, findings::keep, verdict::show,
        metrics::collect
    ),
    components(schemas(Problem)),
    tags(
        (name = "jobs", description = "What the shop has to do."),
        (name = "findings", description = "What was seen at the bench."),
        (name = "verdict", description = "What the program makes of it."),
    ),
    modifiers(&Door),
)]
struct Interface;

/// What every address that wants a token answers without one, and how a token is sent.
struct Door;

/// Answers that the door gives before an address is reached.
const AT_THE_DOOR: [(&str, &str); 4] = [
    ("401", "No token that goes came with it."),
    ("403", "The token's person may not."),
    ("429", "Too many wrong tokens came from this address."),
    ("503", "The records do not answer, or it took too long."),
];

impl Modify for Door {
    fn modify(&self, description: &mut Description) {
        let scheme = SecurityScheme::Http(HttpBuilder::new().scheme(HttpAuthScheme::Bearer).build());
        if let Some(components) = description.components.as_mut() {
            components.add_security_scheme("token", scheme);
        }
        description.paths.paths.values_mut().flat_map(operations).for_each(told_at_the_door);
    }
}

fn operations(item: &mut PathItem) -> impl Iterator<Item = &mut Operation> {
    [item.get.as_mut(), item.post.as_mut()].into_iter().flatten()
}

fn told_at_the_door(operation: &mut Operation) {
    if operation.security.is_none() {
        return;
    }
    for (status, told) in AT_THE_DOOR {
        let problem = utoipa::openapi::Ref::from_schema_name("Problem");
        let content = ContentBuilder::new().schema(Some(problem)).build();
        let response = ResponseBuilder::new().description(told).content("application/problem+json", content).build();
        operation.responses.responses.insert(status.to_owned(), RefOr::T(response));
    }
}

/// This description.
#[utoipa::path(get, path = "/api/v1/openapi.json", tag = "jobs", responses(
    (status = 200, description = "The description.", body = Object, content_type = "application/json"),
))]
pub(crate) async fn show() -> Json<Description> {
    Json(Interface::openapi())
}
