#include "app/commands/table_json.h"

namespace hoopwright {

void writeTableInfo(JsonWriter& json, const RuleTableInfo& table) {
    json.text("id", table.id);
    json.text("title", table.title);
    json.text("edition", table.edition);
    json.text("written_by", table.written_by);
    json.yesNo("published", table.published);
    json.whole("rules", table.rules);
    json.text("advice", table.advice);
}

}  // namespace hoopwright
