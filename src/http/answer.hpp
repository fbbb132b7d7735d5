#pragma once

#include "http/api.hpp"
#include "json/answers.hpp"

/// What the addresses have in common.
namespace rollwright::http {

template <class T>
Response answer(const Result<T>& result, int status = 200) {
  if (!result) return refusal(result.error());
  return {.status = status, .body = json::text_of(*result)};
}

/// A paper, shown in the browser under this name. The name holds no quotes.
[[nodiscard]] inline Response pdf_answer(Result<std::string> pdf, const std::string& name) {
  if (!pdf) return refusal(pdf.error());
  return {.type = "application/pdf",
          .body = std::move(*pdf),
          .headers = {{"Content-Disposition", "inline; filename=\"" + name + ".pdf\""}}};
}

}  // namespace rollwright::http
