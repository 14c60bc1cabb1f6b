"""What every subject uses: reading and printing measures, and planes."""
