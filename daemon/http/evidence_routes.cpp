#include "http/evidence_routes.hpp"

#include <fmt/format.h>

#include <array>

#include "domain/names.hpp"
#include "wire/answer_json.hpp"

namespace dryclock::http {
namespace {

struct RecordFile {
  std::string_view path, name;
  RecordForm form;
  std::string_view content_type;
};
constexpr std::array record_files{
    RecordFile{"/api/v1/vehicles/{}/record.pdf", "record.pdf", RecordForm::pdf, "application/pdf"},
    RecordFile{"/api/v1/vehicles/{}/record.zip", "record.zip", RecordForm::zip, "application/zip"},
    RecordFile{"/api/v1/vehicles/{}/handover.pdf", "handover.pdf", RecordForm::handover, "application/pdf"},
    RecordFile{"/api/v1/vehicles/{}/receipt.pdf", "receipt.pdf", RecordForm::receipt, "application/pdf"}};

Response personal(const Services& services, const std::string& id) {
  const auto number = whole_number(id);
  if (!number) {
    return none_such("vehicle", id);
  }
  const auto kept = services.personal(*number);
  if (!kept) {
    return problem_response(503, kept.error());
  }
  Personal out{*number, {}, {}};
  for (const PersonalText& one : kept.value()) {
    (one.field == personal_fields[0] ? out.plate : out.customer) = one.text;
  }
  return json_response(wire::to_json(out));
}

void record(const Services& services, const RecordFile& file, const Asked& asked, const Answer& answer) {
  const Target& target = asked.target;
  const auto paper = target.query.find("paper");
  const bool letter = paper != target.query.end() && paper->second == "letter";
  if (paper != target.query.end() && !letter && paper->second != "a4") {
    answer(problem_response(400, {"a4 or letter", "paper"}));
    return;
  }
  const auto language = target.query.find("language");
  const bool said = language != target.query.end();
  const auto spoken = said ? from_name<Language>(language->second) : std::nullopt;
  if (said && !spoken) {
    answer(problem_response(400, {fmt::format("one of {}", fmt::join(words<Language>, ", ")), "language"}));
    return;
  }
  const std::string& id = asked.parts[0];
  const auto number = whole_number(id);
  if (!number) {
    answer(none_such("vehicle", id));
    return;
  }
  services.record(
      {*number, file.form, letter, spoken}, [answer, &file, vehicle = *number](RecordAnswer made) {
        if (!made) {
          answer(problem_response(made.error().where == "vehicle" ? 404 : 503, made.error()));
          return;
        }
        Response response;
        response.content_type = file.content_type;
        response.headers.emplace_back(
            "Content-Disposition", fmt::format("attachment; filename=\"vehicle-{}-{}\"", vehicle, file.name));
        response.body = std::move(made).value();
        answer(std::move(response));
      });
}

void handed_over(const Services& services, const Answer& answer) {
  services.handed_over([answer](const Result<HandedOverAnswer>& found) {
    answer(found ? json_response(wire::to_json(*found)) : problem_response(503, found.error()));
  });
}

void past_vehicle(const Services& services, const std::string& id, const Answer& answer) {
  const auto number = whole_number(id);
  if (!number) {
    answer(none_such("vehicle", id));
    return;
  }
  services.past_vehicle(*number, [answer](const Result<VehicleSummary>& found) {
    answer(found ? json_response(wire::to_json(*found))
                 : problem_response(found.error().where == "vehicle" ? 404 : 503, found.error()));
  });
}

void rechecks(const Services& services, const Answer& answer) {
  services.rechecks([answer](const Result<RecheckReport>& report) {
    answer(report ? json_response(wire::to_json(*report)) : problem_response(503, report.error()));
  });
}

}  // namespace

void add_evidence_routes(Routes& routes, const Services& services) {
  for (const RecordFile& file : record_files) {
    routes.push_back({"GET", file.path, {"paper", "language"}, [&](const Asked& asked, const Answer& answer) {
                        record(services, file, asked, answer);
                      }});
  }
  routes.insert(
      routes.end(),
      {{"GET", "/api/v1/vehicles/{}/personal", {}, at_once([&](const Asked& asked) {
          return personal(services, asked.parts[0]);
        })},
       {"GET",
        "/api/v1/handed-over",
        {},
        [&](const Asked&, const Answer& answer) { handed_over(services, answer); }},
       {"GET",
        "/api/v1/handed-over/{}",
        {},
        [&](const Asked& asked, const Answer& answer) { past_vehicle(services, asked.parts[0], answer); }},
       {"GET", "/api/v1/rechecks", {}, [&](const Asked&, const Answer& answer) {
          rechecks(services, answer);
        }}});
}

}  // namespace dryclock::http
