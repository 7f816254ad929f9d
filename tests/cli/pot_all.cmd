baitfall pot large
