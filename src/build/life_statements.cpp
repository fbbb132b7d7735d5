#include <array>

#include "build/order_life.hpp"

// What only a person can say, and says with a move. Common practice.
namespace rollwright::build {
namespace {

using enum SaidAs;

constexpr std::array kStatements = {
    Statement{"budget", kBudget, "What the customer means to spend at most",
              "no budget is written down"},
    Statement{"window", kWords, "In which weeks the bike will be ready",
              "no window of weeks is given"},
    Statement{"valid_until", kDay, "Last day on which the offer holds",
              "no last day of the offer is given"},
    Statement{"finds_out", kWords, "Who finds out what is not known of the parts", ""},
    Statement{"terms_shown", kYes, "The terms for changes and for cancelling were shown",
              "nobody said that the terms for changes and for cancelling were shown"},
    Statement{"mass_confirmed", kYes,
              "The customer confirmed rider and load against the permitted total mass",
              "nobody confirmed the permitted total mass"},
    Statement{"lever_side", kYes, "The customer confirmed which lever works the front brake",
              "nobody confirmed which lever works the front brake"},
    Statement{"region_class", kYes, "The customer confirmed region and class of assist",
              "nobody confirmed region and class of assist"},
    Statement{"recall_consent", kYes,
              "The customer agrees that data are kept so that a recall can reach them",
              "the customer's consent to keep data for recalls is missing"},
    Statement{"maker_number", kWords, "Number of the maker's confirmation",
              "the maker's confirmation has no number"},
    Statement{"maker_price", kAmount, "Price that the maker confirmed",
              "the maker has confirmed no price"},
    Statement{"maker_week", kWords, "Week that the maker confirmed",
              "the maker has confirmed no week"},
    Statement{"instructions", kYes, "The instructions for the parts at hand lie at the stand",
              "nobody said that the instructions for the parts are at hand"},
    Statement{"tools_calibrated", kYes, "The torque tools are in calibration",
              "nobody said that the tools are in calibration"},
    Statement{"finished", kDay, "Day on which the maker finished the bike",
              "the day on which the maker finished is not known"},
    Statement{"maker_photographs", kYes, "The maker's photographs are here",
              "the maker's photographs are missing", false, "maker"},
    Statement{"maker_serials", kWords, "Serial numbers that the maker states",
              "the maker's serial numbers are missing"},
    Statement{"box_list", kWords, "What the maker's boxes hold", "the box list is missing"},
    Statement{"battery_papers", kYes, "The battery's papers for the road are complete",
              "the battery's papers are missing", true},
    Statement{"carrier", kWords, "Carrier that took it over, with its number",
              "no carrier took it over"},
    Statement{"delivery_paper", kYes, "The delivery paper was checked",
              "nobody checked the delivery paper"},
    Statement{"box_photographs", kYes, "The boxes were photographed from all sides",
              "the boxes were not photographed", false, "boxes"},
    Statement{"damage_noted", kYes,
              "Damage was noted on the paper before signing, or there is none",
              "nobody said that damage was looked for before signing"},
    Statement{"opened_in_time", kYes, "The boxes were opened inside the time for claims",
              "nobody said that the boxes were opened inside the time for claims"},
    Statement{"box_list_matches", kYes, "What came is what the box list says",
              "nobody compared what came with the box list"},
    Statement{"looked_over", kYes, "Frame, fork and wheels were looked over and are sound",
              "frame, fork and wheels were not looked over"},
    Statement{"read_back", kYes, "Software and region were read back and are as ordered",
              "software and region were not read back", true},
    Statement{"papers_complete", kYes, "The set of papers is complete",
              "the set of papers is not complete"},
    Statement{"worked_by", kWords, "Names of those who did the work, where nobody wrote it down", ""},
    Statement{"packing_list", kYes, "The packing list lies in the box",
              "there is no packing list"},
    Statement{"battery_rules", kYes,
              "Charge, packing, marks and papers of the battery are as the rules for this way ask",
              "nobody said that the rules for the battery are met", true},
    Statement{"insurance_value", kAmount, "Value for which the consignment is insured",
              "no insurance value is given"},
    Statement{"receiver_told", kYes, "The receiver was told what comes and when",
              "the receiver was not told"},
    Statement{"balance", kYes, "The balance is paid, or the financing is released",
              "the balance is not paid"},
    Statement{"rider_fitted", kYes, "The bike was set to its rider", "the rider was not fitted"},
    Statement{"documents_given", kYes, "The papers were given",
              "the papers were not given"},
    Statement{"counted", kYes, "Keys, battery and charger were counted",
              "keys, battery and charger were not counted"},
    Statement{"signature", kWords, "Name of the customer who signed for the bike",
              "the customer has not signed for it"},
    Statement{"first_service", kDay, "Day of the first service",
              "no day is set for the first service"},
    Statement{"warranty_started", kYes, "The bike is registered and the warranties have begun",
              "the warranties have not begun"},
    Statement{"why_closed", kWords, "Why nothing more is done for it: sold on, scrapped, handed off",
              "nobody said why it is closed"},
    Statement{"operations", kOperations, "Operations that have to be done again, as in A-61 T-30",
              "no operation is named that has to be done again"},
    Statement{"why_back", kWords, "What was found", "nobody said what was found"},
    Statement{"reason", kWords, "Why it is cancelled", "nobody said why it is cancelled"},
    Statement{"settlement", kAmount, "What is paid back, as the settlement says",
              "the settlement is not confirmed"},
    Statement{"keep_lines", kYes, "What is still open with suppliers is kept for the shelf", ""},
};

}  // namespace

std::span<const Statement> statements() { return kStatements; }

std::string_view word_of(SaidAs kind) {
  switch (kind) {
    case kYes: return "yes";
    case kWords: return "words";
    case kDay: return "a day as in 2026-11-25";
    case kAmount: return "an amount as in 512.00";
    case kOperations: return "operations as in A-61 T-30";
    case kBudget: return "a budget as in 2500, or nothing said";
  }
  broken_promise("every way of saying has a word", __FILE__, __LINE__);
}

}  // namespace rollwright::build
