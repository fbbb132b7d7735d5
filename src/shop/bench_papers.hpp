#pragma once

#include "documents/bike_history_pdf.hpp"
#include "documents/owners_pack_pdf.hpp"
#include "shop/bench_at.hpp"
#include "trade/service_plan.hpp"

/// A bike's record made ready for paper.
namespace rollwright::shop {

/// "25 Nov 2026, 08:45" on the shop's clock.
[[nodiscard]] std::string local_moment(const State& state, Instant at);
/// "number 4711, lot L-7"; empty when neither is written down.
[[nodiscard]] std::string marks_text(const std::string& serial, const std::string& lot);

[[nodiscard]] std::vector<documents::BikeHistory::Part> parts_on_and_off(const BenchDesk::At& at);
[[nodiscard]] std::vector<documents::BikeHistory::Check> checks_signed(const BenchDesk::At& at);

/// All of the pack but when it is printed. Errors: those of build_of.
[[nodiscard]] Result<documents::OwnersPack> owners_pack_of(
    const trade::Trade& trade, const std::vector<trade::ServiceVisit>& services,
    const BenchDesk::At& at);

}  // namespace rollwright::shop
