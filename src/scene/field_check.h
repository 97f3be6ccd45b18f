// Walks a document's fields: numbers finite and in range, texts printable, values sensible alone.
#pragma once

#include "scene/document.h"
#include "scene/problem.h"

namespace standpoint {

Trouble check_fields(const Document& document);

} // namespace standpoint
