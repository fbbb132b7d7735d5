#include <algorithm>

#include "shop/goods_shelf.hpp"
#include "shop/order_input.hpp"

namespace rollwright::shop {
namespace {

/// The supplier sends the pieces of a claim once more: those that went back, or those that were
/// missing.
Result<void> sent_again(const GoodsInAt& at, trade::PurchaseLine& line,
                        const trade::Claim& claim) {
  line.came = trade::goods_in_of(line);
  const bool is_short = claim.trouble == trade::Trouble::kShort;
  const int there = is_short ? line.came->written_off : line.came->sent_back - line.came->again;
  if (there < claim.pieces) {
    return refused(fmt::format("{} of the claim have not gone back yet; send them back first, then "
                               "they can be sent again",
                               pieces_words(claim.pieces - there)),
                   "what", "sent again");
  }
  const auto step = is_short ? supply::Step::kStillComes : supply::Step::kSendAgain;
  Result<trade::GoodsIn> next = supply::after(*line.came, step, claim.pieces, at.today);
  if (!next) return std::unexpected(next.error());
  line.came = *next;
  line.placed_again = at.today;
  line.confirmed.reset();
  line.legs.clear();
  line.state = state_after(line, 0);
  return {};
}

/// The claim that is meant: by its number, or the only open one.
trade::Claim* claim_meant(trade::PurchaseLine& line, int number) {
  std::vector<trade::Claim*> open;
  for (trade::Claim& claim : line.claims) {
    if (!claim.settled) open.push_back(&claim);
  }
  if (number == 0 && open.size() == 1) return open.front();
  if (number < 1 || static_cast<int>(line.claims.size()) < number) return nullptr;
  return &line.claims[static_cast<std::size_t>(number - 1)];
}

}  // namespace

Result<BookedIn> claimed(const GoodsInAt& at, const trade::PurchaseLine& held,
                         const ClaimStep& given) {
  if (Result<void> ok = one_line("note", given.note, kLongestNote); !ok) {
    return std::unexpected(ok.error());
  }
  BookedIn booked{.line = held, .stock = {}, .receipt = {}, .why = {}};
  trade::Claim* claim = claim_meant(booked.line, given.number);
  if (claim == nullptr) {
    return refused(fmt::format("line {} has {} claims; say which open one by its number", held.id,
                               booked.line.claims.size()),
                   "claim", std::to_string(given.number), Code::kNotFound);
  }
  if (claim->settled) {
    return refused(fmt::format("this claim was settled on {} ({})", in_words(*claim->settled),
                               claim->outcome),
                   "claim", std::to_string(given.number));
  }
  if (given.what == "told") {
    if (claim->told) {
      return refused(fmt::format("this was told on {} already", in_words(*claim->told)), "claim",
                     std::to_string(given.number));
    }
    claim->told = at.today;
  } else if (given.what == "sent again") {
    if (Result<void> ok = sent_again(at, booked.line, *claim); !ok) {
      return std::unexpected(ok.error());
    }
    claim->settled = at.today;
    claim->outcome = given.what;
  } else if (given.what == "credited" || given.what == "refused") {
    claim->settled = at.today;
    claim->outcome = given.what;
  } else {
    return refused("a claim is told, credited, sent again or refused", "what", given.what,
                   Code::kBadInput);
  }
  if (!given.note.empty()) {
    claim->note = claim->note.empty() ? given.note : claim->note + "; " + given.note;
  }
  booked.why = fmt::format("line {}, {} of {}: {}", held.id, trade::word_of(claim->trouble),
                           pieces_words(claim->pieces), given.what);
  return booked;
}

}  // namespace rollwright::shop
