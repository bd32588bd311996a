#include "agreement_rows.hpp"

#include <fmt/format.h>

#include <iostream>

namespace accuracy {
namespace {

std::string cell(std::optional<double> value, int decimals) {
  return value ? fmt::format("{:.{}f}", *value, decimals) : "";
}

}  // namespace

void print_header() {
  std::cout << "| record              |  beats |   FN |   FP |    Se % |    +P % |  DER % | bias ms | SD ms |\n"
               "|---------------------|--------|------|------|---------|---------|--------|---------|-------|\n";
}

void print_row(const pulsewright::BeatAgreement& a) {
  std::cout << fmt::format("| {:<19} | {:>6} | {:>4} | {:>4} | {:>7} | {:>7} | {:>6} | {:>7} | {:>5} |\n", a.name,
                           a.true_positives + a.false_negatives, a.false_negatives, a.false_positives,
                           cell(a.sensitivity_percent(), 3), cell(a.positive_predictivity_percent(), 3),
                           cell(a.error_rate_percent(), 3), cell(a.bias_ms(), 1), cell(a.sd_ms(), 1));
}

void print_errors(const pulsewright::BeatAgreement& a) {
  for (const pulsewright::Seconds t : a.missed) std::cout << fmt::format("    missed at {:.3f} s\n", t.value());
  for (const pulsewright::Seconds t : a.extra) std::cout << fmt::format("    extra at {:.3f} s\n", t.value());
}

}  // namespace accuracy
