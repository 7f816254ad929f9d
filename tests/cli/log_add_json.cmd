baitfall log add open "Withy Pool" 14 --at 2026-04-12T08:30:00.5+01:00 --json |
    sed -E 's/[0-9a-f]{32}/ID/g; s/"(dev|run)":"[0-9a-f]{8}"/"\1":"8 HEX"/g; s/"rec":"[^"]*"/"rec":"NOW"/'
