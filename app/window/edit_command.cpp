#include "app/window/edit_command.h"

#include <utility>

namespace hoopwright {
namespace {
constexpr int kEditId = 1;
}

EditCommand::EditCommand(const QString& words, JobRef before, JobRef after, QByteArray key,
                         std::function<void(JobRef)> show)
    : QUndoCommand(words),
      before_(std::move(before)),
      after_(std::move(after)),
      key_(std::move(key)),
      show_(std::move(show)) {}

void EditCommand::redo() {
    show_(after_);
}

void EditCommand::undo() {
    show_(before_);
}

int EditCommand::id() const {
    return key_.isEmpty() ? -1 : kEditId;
}

bool EditCommand::mergeWith(const QUndoCommand* later) {
    const auto* next = dynamic_cast<const EditCommand*>(later);
    if (!next || next->key_ != key_) return false;
    after_ = next->after_;
    setObsolete(*after_ == *before_);  // dragged back to where it was: leaves no step behind
    return true;
}

}  // namespace hoopwright
