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

}  // namespace rollwright::http
