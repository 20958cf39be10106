// One step of undo: the job before and the job after.
#pragma once

#include <QByteArray>
#include <QUndoCommand>
#include <functional>
#include <memory>

#include "core/model/cage_layout.h"

namespace hoopwright {

/// Shared because the document, its undo steps, the recovery writer and workers hold the same job, which
/// never changes.
using JobRef = std::shared_ptr<const Job>;

/// Steps with the same key, one right after the other, become one: a whole drag is one undo. No key: never
/// merged.
class EditCommand final : public QUndoCommand {
public:
    EditCommand(const QString& words, JobRef before, JobRef after, QByteArray key,
                std::function<void(JobRef)> show);
    void redo() override;
    void undo() override;
    int id() const override;
    bool mergeWith(const QUndoCommand* later) override;

private:
    JobRef before_, after_;
    QByteArray key_;
    std::function<void(JobRef)> show_;
};

}  // namespace hoopwright
