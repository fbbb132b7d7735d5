#pragma once

#include "shop/maker_at.hpp"
#include "shop/maker_views.hpp"

namespace rollwright::shop {

/// Everything about the maker of an order's bike; `papers` are those that have to come with it.
[[nodiscard]] MakerView maker_view(const LifeAt& at, std::vector<std::string> papers);

/// Why no form can be sent now; empty when one can.
[[nodiscard]] std::vector<std::string> form_missing(const LifeAt& at);

/// The form that would be sent now, without a day wanted.
[[nodiscard]] trade::MakerForm form_to_send(const LifeAt& at);

[[nodiscard]] MakerFormView form_view(const LifeAt& at, const trade::MakerForm& form);

/// "as built 1"
[[nodiscard]] std::string list_name(const trade::MakerList& list);

}  // namespace rollwright::shop
