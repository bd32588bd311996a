/// Rows of the accuracy tables.
#pragma once

#include "pulsewright/agreement.hpp"

namespace accuracy {

void print_header();
void print_row(const pulsewright::BeatAgreement& agreement);
/// Every missed and extra beat, for looking at development records one by one.
void print_errors(const pulsewright::BeatAgreement& agreement);

}  // namespace accuracy
