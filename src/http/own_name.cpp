#include "http/own_name.hpp"

#include <fmt/format.h>

#include "shop/people_desk.hpp"

namespace rollwright::http {

Result<void> under_own_name(shop::Shop& shop, const Request& request, const std::string& name,
                            const char* field) {
  if (!request.is_signed_in) return {};
  const Result<trade::PersonId> person = shop.people_desk().called(name, field);
  if (!person) return std::unexpected(person.error());
  if (person->text == request.who) return {};
  return refuse(Code::kNotAllowed,
                fmt::format("{} is signed in here; {} signs in to write under that name",
                            request.who, person->text),
                {.field = field, .value = name});
}

}  // namespace rollwright::http
