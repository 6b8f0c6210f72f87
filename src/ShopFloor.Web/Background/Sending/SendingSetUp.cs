namespace ShopFloor.Web.Background.Sending;

public static class SendingSetUp
{
    /// <summary>What brings mails and webhooks out of the house.</summary>
    public static IServiceCollection AddSending(this IServiceCollection services)
    {
        services.AddSingleton<SecretBox>();
        services.AddSingleton<SendDue>();
        services.AddSingleton<MailCarrier>();
        services.AddSingleton<HookCarrier>();
        services.AddSingleton<ICarrier>(s => s.GetRequiredService<MailCarrier>());
        services.AddSingleton<ICarrier>(s => s.GetRequiredService<HookCarrier>());
        return services;
    }
}
