#pragma once

#include <string>

#include "spec/trials/generated_catalogue.hpp"

namespace rollwright::spec::testing {

/// An order of the invented demo shop among the whole demo catalogue and the trade's own rules.
struct DemoOrder {
  Catalogue catalogue;
  Selection choices;  // as ordered
};
/// Errors: those of the files; kNotFound for an order that is not there.
[[nodiscard]] Result<DemoOrder> demo_order(const std::string& id);

/// Orders that measurements look at.
inline constexpr const char* kDemoOrders[] = {"2041", "2022", "2038", "2044"};

}  // namespace rollwright::spec::testing
