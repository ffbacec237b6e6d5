#include "app/commit_to.hpp"

#include "seal/commitment.hpp"

namespace dryclock::app {

void commit_to(const wire::SubmittedEvent& given, VehicleIn& arrival, std::vector<PersonalText>& kept) {
  const auto commit = [&](std::string_view field, const std::string& text, std::string& sha256) {
    if (!text.empty()) {
      auto made = seal::commit_to(text);
      sha256 = made.sha256;
      kept.push_back({std::string{field}, std::move(made.salt), text});
    }
  };
  commit("plate", given.plate, arrival.plate_sha256);
  commit("customer", given.customer, arrival.customer_sha256);
}

}  // namespace dryclock::app
