#include "io/result/ledger_lines.h"

namespace tabmelt {

std::vector<LedgerLine> ledger_sinks(const Ledger& ledger) {
  return {
      {"source_resistance", "Inside the source (ESR, internal resistance)",
       ledger.source_resistance},
      {"leads", "Leads", ledger.leads},
      {"joints", "Joints", ledger.joints},
      {"power_switch", "Switch while conducting", ledger.power_switch},
      {"switch_off", "Dumped in the switch when it opened", ledger.switch_off},
      {"tip_lift", "Dumped in the gap under a tip that bounced", ledger.tip_lift},
      {"tip_contacts", "Contacts electrode - strip", ledger.tip_contacts},
      {"faying_contacts", "Contacts strip - can", ledger.faying_contacts},
      {"electrodes", "Electrodes", ledger.electrodes},
      {"strip", "Strip", ledger.strip},
      {"can", "Can", ledger.can},
      {"expelled", "Expelled as sparks", ledger.expelled},
      {"left_in_inductance", "Still in the inductance at the end", ledger.left_in_inductance},
  };
}

std::vector<LedgerLine> ledger_source(const Ledger& ledger) {
  return {
      {"stored_before", "Stored before the pulse", ledger.stored_before},
      {"from_source", "Given up by the source", ledger.from_source},
      {"left_in_source", "Left in the source", ledger.left_in_source},
  };
}

}  // namespace tabmelt
