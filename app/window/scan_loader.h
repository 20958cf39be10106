// Reads the scans of the open car beside the window's own thread; tells how far it is; can be stopped.
#pragma once

#include <QObject>
#include <QThreadPool>
#include <QTimer>
#include <atomic>
#include <filesystem>
#include <map>
#include <string>

#include "app/window/document.h"

namespace hoopwright {

/// One scan at a time. Scans a car names are read by themselves once it is open. Whatever goes wrong, the job
/// is as it was.
class ScanLoader : public QObject {
    Q_OBJECT
public:
    explicit ScanLoader(Document& document);
    ~ScanLoader() override;

    /// As a car's file writes it: from the car file's folder. The reason, a sentence, says that it lies
    /// outside, or that there is no car file yet.
    Expected<std::string> nameInCarFolder(const std::filesystem::path& file) const;
    /// Reads a file of the car's folder and adds it to the car. @pre not busy, nameInCarFolder(file) is good
    void add(const std::filesystem::path& file);
    /// Puts a copy into the car's folder first, under its own name or a numbered one.
    void copyAndAdd(const std::filesystem::path& file);
    /// Tries once more what could not be read.
    void readAgain(const std::string& scan);
    void cancel();

    bool busy() const { return busy_; }
    QString fileName() const;  ///< of what is being read
    double share() const { return share_; }
    /// Why a scan of the car is not there, a sentence; empty: it is there, or it is being read.
    QString whyNot(const std::string& scan) const;

signals:
    void progressed();  ///< and when it begins and ends
    void added(const std::string& scan);
    void stopped(const QString& file_name);
    /// Nothing was changed. @param adding  else a scan the car named already
    void refused(const QString& file_name, const hoopwright::Problems& problems, bool adding);

private:
    struct Work {
        std::string scan;  ///< as the car's file writes it
        std::filesystem::path car_file;
        std::filesystem::path copy_of;  ///< empty: it is there already
        bool adds = false;
        int opened = 0;
    };
    struct Outcome;
    void readMissing();
    void start(Work work);
    void finish(const Work& work, const Outcome& outcome);

    Document& document_;
    std::map<std::string, QString> failed_;
    Work work_;
    bool busy_ = false;
    int opened_ = 0;  ///< jobs so far: what is read for another one is thrown away
    std::atomic<bool> stop_ = false;
    std::atomic<double> share_ = 0;
    QTimer tick_;
    QThreadPool worker_;
};

}  // namespace hoopwright
